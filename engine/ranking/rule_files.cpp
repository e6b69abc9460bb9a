#include "ranking/rule_files.hpp"

#include <algorithm>
#include <filesystem>

#include <fmt/format.h>

#include "base/error.hpp"
#include "input/yaml_reader.hpp"
#include "rules/rule_loader.hpp"

namespace firstcrop {
namespace {

std::vector<std::string> yaml_files(const std::string& folder) {
  std::error_code fault;
  std::vector<std::string> out;
  for (auto entry = std::filesystem::directory_iterator(folder, fault);
       !fault && entry != std::filesystem::directory_iterator(); entry.increment(fault)) {
    if (entry->path().extension() == ".yaml") out.push_back(entry->path().string());
  }
  if (fault) throw Error(fmt::format("cannot read the folder of rules {}: {}", folder, fault.message()));
  if (out.empty()) throw Error(fmt::format("the folder of rules {} holds no .yaml file", folder));
  std::sort(out.begin(), out.end());
  return out;
}

std::vector<RuleFile> read_all(const std::vector<std::string>& paths, const Catalogue& catalogue,
                               Findings& findings) {
  std::vector<RuleFile> out;
  for (const std::string& path : paths) {
    if (const auto document = read_yaml(path, read_file(path), findings)) {
      out.push_back(load_rules(*document, catalogue, findings));
    }
  }
  return out;
}

}  // namespace

std::optional<RuleBook> load_rule_book(const std::string& folder, const std::vector<std::string>& additions,
                                       const Catalogue& catalogue, Findings& findings) {
  Findings own;
  auto files = read_all(yaml_files(folder), catalogue, own);
  auto added = read_all(additions, catalogue, own);
  auto book = RuleBook::build(catalogue, std::move(files), std::move(added), own);
  const bool failed = own.has_errors();
  findings.append(own);
  if (failed) return std::nullopt;
  return book;
}

}  // namespace firstcrop
