#include <algorithm>
#include <map>

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "input/fields.hpp"
#include "library/condition.hpp"
#include "library/library_checks.hpp"
#include "library/library_loader.hpp"
#include "ranking/rule_files.hpp"
#include "report/check_text.hpp"
#include "solute/known_solid.hpp"
#include "rules/rule_cases.hpp"
#include "systems/fact_list.hpp"
#include "systems/inquiry.hpp"
#include "systems/providers.hpp"

namespace firstcrop::cli {
namespace {

// Files of ours name their format in the first key; a shelf is a bare list.
std::string format_of(const YamlDocument& document) {
  if (document.root().is_list()) return "shelf";
  const YamlNode* format = document.root().find("format");
  return format != nullptr && format->is_scalar() ? format->text : std::string();
}

// The facts, with the names that the library holds as the only values of those that speak of it: a slip in a rule file
// would make a condition that never holds.
Catalogue catalogue_of(const Library& library) {
  std::vector<std::string> ids;
  std::vector<std::string> hazards;
  for (const Solvent& solvent : library.solvents()) {
    ids.push_back(solvent.id);
    for (const auto* codes : {&solvent.hazard_statements.values, &solvent.euh_statements.values}) {
      hazards.insert(hazards.end(), codes->begin(), codes->end());
    }
  }
  // Whether a solvent of the library has it or not, each of these may stand on a label.
  constexpr int kFirstCode = 200;
  constexpr int kLastCode = 420;
  for (int code = kFirstCode; code <= kLastCode; ++code) hazards.push_back(fmt::format("H{}", code));
  std::vector<std::string> groups;
  for (const GroupDefinition& group : library.groups().definitions()) groups.push_back(group.token);
  for (const Condition& condition : library.conditions()) {
    groups.insert(groups.end(), condition.sets.begin(), condition.sets.end());
  }
  const std::map<std::string, std::vector<std::string>> words{
      {"solvent.id", ids},           {"system.solvents", ids},
      {"solvent.classes", library.class_names()}, {"system.classes", library.class_names()},
      {"solvent.hazards", hazards},  {"solute.groups", groups}};
  Catalogue out;
  const Catalogue plain = make_catalogue();
  for (FactInfo info : plain.facts()) {
    if (const auto found = words.find(info.name); found != words.end()) info.words = found->second;
    out.add(std::move(info));
  }
  return out;
}

class Checker {
 public:
  Checker(const Options& options, Findings& findings) : folder_(find_data_folder(options)), findings_(findings) {
    const auto knowledge = load(false);
    catalogue_ = knowledge ? catalogue_of(knowledge->library) : make_catalogue();
  }

  void check_everything() {
    const auto knowledge = load(true);
    if (knowledge) {
      findings_.append(cross_record_checks(knowledge->library));
      knowledge->library.groups().check_patterns();
      std::vector<std::string> ids;
      for (const Solvent& solvent : knowledge->library.solvents()) ids.push_back(solvent.id);
      check_known_solids(knowledge->solids_folder, ids, findings_);
    }
    check_rules({});
    checked_ = {"library", "rules"};
  }

  void check_file(const std::string& path) {
    checked_.push_back(path);
    const std::string text = read_file(path);
    const auto document = read_yaml(path, text, findings_);
    if (!document) return;
    const std::string format = format_of(*document);
    if (format == "firstcrop rules 1") {
      check_rules({path});
    } else if (format == "firstcrop solute 1") {
      check_solute(path, text);
    } else if (format == "firstcrop solvents 1") {
      if (const auto knowledge = load(false)) {
        LoadedLibrary added = add_solvents(knowledge->library, path, text, subgroup_names(knowledge->phase.parameters()));
        findings_.append(added.findings);
      }
    } else if (format == "shelf") {
      check_shelf(*document);
    } else {
      const std::vector<std::string> known{"firstcrop solute 1", "firstcrop rules 1", "firstcrop solvents 1"};
      const auto near = nearest_name(format, known);
      const YamlNode* node = document->root().find("format");
      findings_.error(document->place_of(node != nullptr ? *node : document->root()),
                      format.empty() ? "this file does not say what it is"
                                     : fmt::format("`{}` is not a format known here", format),
                      near ? fmt::format("did you mean `format: {}`?", *near)
                           : "begin with `format: firstcrop solute 1` (or rules, or solvents)");
    }
  }

  [[nodiscard]] const CaseCounts& cases() const { return cases_; }
  [[nodiscard]] const std::vector<std::string>& checked() const { return checked_; }

 private:
  std::optional<KnowledgeBase> load(bool tell) {
    Findings own;
    auto knowledge = load_knowledge({folder_, std::nullopt, {}}, own);
    if (tell || !knowledge) findings_.append(own);
    return knowledge;
  }

  void check_rules(const std::vector<std::string>& additions) {
    const auto book = load_rule_book(folder_ + "/rules", additions, catalogue_, findings_);
    if (!book) return;
    Findings own;
    const CaseCounts counts = run_cases(*book, own);
    cases_.passed += counts.passed;
    cases_.failed += counts.failed;
    // Of an added file only its own rules are told about.
    for (const Finding& finding : own.sorted()) {
      const bool ours = additions.empty() || finding.place.path == additions.front();
      if (ours) findings_.add(finding);
    }
    check_order(*book);
  }

  // Rules and arithmetic together must form an order; a nameless solid is enough to see it.
  void check_order(const RuleBook& book) {
    const auto knowledge = load(false);
    if (!knowledge) return;
    SoluteFile nameless;
    nameless.name = "any solid";
    const auto inquiry = make_inquiry(*knowledge, nameless, {}, true, findings_);
    if (inquiry) static_cast<void>(SystemJudge::create(catalogue_, *inquiry, book, findings_));
  }

  void check_solute(const std::string& path, const std::string& text) {
    const auto knowledge = load(false);
    if (!knowledge) return;
    const auto solute = read_solute_file(path, text, vocabulary_of(*knowledge), findings_);
    if (solute) static_cast<void>(make_inquiry(*knowledge, *solute, {}, false, findings_));
  }

  void check_shelf(const YamlDocument& document) {
    const auto knowledge = load(false);
    if (!knowledge) return;
    for (const YamlNode& item : document.root().items) {
      const SolventAnswer answer = parse_solvent(item.is_scalar() ? item.text : "", knowledge->library);
      if (!answer.solvent) findings_.error(document.place_of(item), answer.message, answer.help);
    }
  }

  std::string folder_;
  Findings& findings_;
  Catalogue catalogue_;
  CaseCounts cases_;
  std::vector<std::string> checked_;
};

}  // namespace

void declare_check(CLI::App& command, Options& options) {
  command.add_option("FILE", options.files, "Files to check; none: the whole library and all rules")
      ->type_name("FILE");
  add_output_options(command, options);
  command.footer("Example: firstcrop check jar7.yaml my-rules.yaml");
}

Answer run_check(const Options& options) {
  Findings findings;
  Checker checker(options, findings);
  if (options.files.empty()) {
    checker.check_everything();
  } else {
    for (const std::string& path : options.files) checker.check_file(path);
  }
  Answer out;
  out.print_on_bad_input = true;
  out.findings = findings.sorted();
  out.exit_code = findings.has_errors() ? kBadInput : kAnswered;
  out.text = options.json ? check_json(out.findings, checker.cases(), FIRSTCROP_VERSION)
                          : check_text(out.findings, checker.cases(), checker.checked());
  return out;
}

}  // namespace firstcrop::cli
