#include <fmt/format.h>

#include <cstdio>
#include <exception>
#include <fstream>
#include <optional>
#include <string>
#include <vector>

#include "base/error.hpp"
#include "calibration_table.hpp"
#include "cross_validation.hpp"
#include "library/library_loader.hpp"
#include "model_fit.hpp"
#include "model_writer.hpp"
#include "reference_check.hpp"
#include "rule_weights.hpp"
#include "tube_exam.hpp"

namespace {

using namespace firstcrop;

constexpr const char* kUsage = R"(usage: firstcrop_calibration COMMAND [options]
  fit FILE           fits the model and writes it
  folds FOLDER       writes model-0.txt to model-4.txt, each fitted without the solids of its fold
  cross-validate     foretells every solid from a fit without it and prints how well
  weights FOLDER     judges solids by the models that `folds` wrote there: what each rule is worth in the choice of a
                     solvent, whether the chance comes true, and whether other weights would choose better
  tubes FOLDER       makes the test tubes that are proposed for the same solids, with their measured curves as the
                     laboratory: what the choice is worth after none to six of them
  check              compares with figures of a second implementation
options
  --reference        the configuration of the first figures: partition term at 0.7, doubtful curves kept, equal
                     weights in the similarity, melting points by ridge, the variances of that time
  --root FOLDER      folder that holds solvents/ and tests/; the current one if not given
)";

struct Options {
  std::string command;
  std::string target;
  std::string root = ".";
  bool reference = false;
  Configuration configuration = shipped_configuration();
};

void write_file(const std::string& path, const std::string& text) {
  std::ofstream out(path, std::ios::binary);
  out << text;
  out.flush();
  if (!out) throw Error(fmt::format("cannot write {}", path));
}

std::optional<Options> parse_arguments(const std::vector<std::string>& arguments) {
  Options options;
  std::vector<std::string> words;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    if (arguments[i] == "--reference") {
      options.reference = true;
      options.configuration = reference_configuration();
    } else if (arguments[i] == "--root" && i + 1 < arguments.size()) {
      options.root = arguments[++i];
    } else if (arguments[i].starts_with("--")) {
      return std::nullopt;
    } else {
      words.push_back(arguments[i]);
    }
  }
  if (words.empty()) return std::nullopt;
  options.command = words[0];
  const bool with_target = options.command == "fit" || options.command == "folds" ||
                           options.command == "weights" || options.command == "tubes";
  if (words.size() != (with_target ? 2U : 1U)) return std::nullopt;
  if (with_target) options.target = words[1];
  return options;
}

int run(const Options& options) {
  const LoadedLibrary loaded = load_library(options.root + "/solvents");
  if (!loaded.library) throw Error(fmt::format("{}/solvents holds errors", options.root));
  const DescriptorScheme& scheme = loaded.library->descriptor_scheme();
  const CalibrationTable table = read_calibration_table(options.root, scheme);
  const Configuration& configuration = options.configuration;
  if (options.command == "fit") {
    const ModelFit fit = fit_model(table, sample_of(table, configuration), configuration);
    write_file(options.target, model_text(fit.data));
    fmt::print("{} solids, {} cells", fit.data.solids.size(), fit.data.cells.size());
    const auto plans = fit_plans(table, configuration);
    for (std::size_t i = 0; i < plans.size(); ++i) {
      fmt::print("; {} log marginal likelihood {:.1f}", plans[i].mode, fit.fits[i].log_marginal_likelihood);
    }
    fmt::print("\n");
    return 0;
  }
  if (options.command == "folds") {
    for (int fold = 0; fold < kFoldCount; ++fold) {
      const ModelFit fit =
          fit_model(table,
                    sample_of(table, configuration,
                              [&](const CalibrationSolid& solid) { return fold_of(solid) != fold; }),
                    configuration);
      write_file(fmt::format("{}/model-{}.txt", options.target, fold), model_text(fit.data));
      fmt::print("model-{}.txt: {} solids, {} cells\n", fold, fit.data.solids.size(), fit.data.cells.size());
    }
    return 0;
  }
  if (options.command == "cross-validate") {
    fmt::print("{}", cross_validation_text(table, *loaded.library, configuration));
    return 0;
  }
  if (options.command == "weights") {
    fmt::print("{}", weights_text(table, options.root, options.target));
    return 0;
  }
  if (options.command == "tubes") {
    fmt::print("{}", tubes_text(table, options.root, options.target));
    return 0;
  }
  if (options.command == "check") {
    const ReferenceCheck check = check_against_reference(
        table, *loaded.library, configuration, options.reference, options.root + "/tests/external/data");
    fmt::print("{}", check.text);
    return check.passed ? 0 : 1;
  }
  fmt::print(stderr, "{}", kUsage);
  return 2;
}

}  // namespace

int main(int argument_count, char** arguments) {
  try {
    const auto options = parse_arguments(std::vector<std::string>(arguments + 1, arguments + argument_count));
    if (!options) {
      fmt::print(stderr, "{}", kUsage);
      return 2;
    }
    return run(*options);
  } catch (const std::exception& error) {
    fmt::print(stderr, "firstcrop_calibration: {}\n", error.what());
    return 3;
  }
}
