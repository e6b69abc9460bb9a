#include "library/library_loader.hpp"

#include <algorithm>
#include <filesystem>
#include <numeric>

#include <fmt/format.h>

#include "base/error.hpp"
#include "library/block_table.hpp"
#include "library/library_readers.hpp"
#include "library/solvent_reader.hpp"

namespace firstcrop {
namespace {

constexpr std::string_view kSolventFormat = "firstcrop solvents 1";

// What stands behind `format:` in a text that was not parsed yet.
std::string_view format_of(std::string_view text) {
  for (std::size_t start = 0; start < text.size();) {
    const std::size_t end = std::min(text.find('\n', start), text.size());
    const std::string_view line = text.substr(start, end - start);
    if (line.starts_with("format:")) return trimmed_text(line.substr(7));
    start = end + 1;
  }
  return {};
}

class FolderReader {
 public:
  explicit FolderReader(const std::string& folder)
      : folder_(folder), data_(std::make_shared<Library::Data>()) {
    std::error_code fault;
    if (!std::filesystem::is_directory(folder_, fault)) {
      throw Error(fmt::format("the folder of the solvent library is missing: {}", folder));
    }
  }

  LoadedLibrary read() {
    read_file_with("sources.yaml", read_sources);
    read_file_with("groups.yaml", read_groups);
    read_file_with("descriptor-increments.yaml", read_descriptor_increments);
    read_file_with("conditions.yaml", read_conditions);
    read_solvent_files();
    read_file_with("miscibility.yaml", read_miscibility);
    read_file_with("azeotropes.yaml", read_azeotropes);
    read_file_with("incompatibilities.yaml", read_incompatibilities);
    read_file_with("shelves.yaml", read_shelves);
    read_file_with("names.yaml", read_names);
    read_file_with("habits.yaml", read_habits);
    LoadedLibrary out;
    out.findings = std::move(findings_);
    if (out.findings.has_errors()) return out;
    index_names(*data_);
    out.library.emplace(std::move(data_));
    return out;
  }

 private:
  void read_file_with(const std::string& name,
                      void (*reader)(const YamlDocument&, Library::Data&, Findings&)) {
    const std::string path = (folder_ / name).string();
    Findings own;
    if (const auto document = read_yaml(path, read_file(path), own)) reader(*document, *data_, own);
    findings_.append(own);
  }

  // Every YAML file of the folder whose format is that of solvents, or nearly.
  void read_solvent_files() {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(folder_)) {
      if (entry.path().extension() == ".yaml") paths.push_back(entry.path());
    }
    std::sort(paths.begin(), paths.end());
    std::vector<YamlDocument> documents;
    documents.reserve(paths.size());
    struct Found {
      ReadSolvent read;
      const YamlDocument* document;
    };
    std::vector<Found> all;
    for (const auto& path : paths) {
      std::string text = read_file(path.string());
      const std::string_view format = format_of(text);
      if (format != kSolventFormat && !nearest_name(format, {std::string(kSolventFormat)})) continue;
      Findings own;
      if (auto document = read_yaml(path.string(), std::move(text), own)) {
        documents.push_back(std::move(*document));
        for (ReadSolvent& read : read_solvents(documents.back(), {true, &data_->sources, {}, {}, {}}, own)) {
          all.push_back({std::move(read), &documents.back()});
        }
      }
      findings_.append(own);
    }
    std::vector<std::size_t> order(all.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&all](std::size_t a, std::size_t b) {
      return all[a].read.solvent.id < all[b].read.solvent.id;
    });
    data_->solvents.reserve(all.size());
    const Found* before = nullptr;
    for (const std::size_t i : order) {
      Found& found = all[i];
      const std::string id = found.read.solvent.id;
      if (!data_->id_index.emplace(id, SolventId{data_->solvents.size()}).second) {
        findings_.add({Severity::Error, found.document->place_of(*found.read.id),
                       fmt::format("the id `{}` is taken", id), "give each solvent its own id",
                       "it was used here first", before->document->place_of(*before->read.id)});
        continue;
      }
      before = &found;
      data_->solvents.push_back(std::move(found.read.solvent));
    }
    if (data_->solvents.empty()) {
      findings_.error(Place{folder_.string(), 0, 0, 1, {}}, "no solvent record was read from this folder");
    }
  }

  std::filesystem::path folder_;
  std::shared_ptr<Library::Data> data_;
  Findings findings_;
};

}  // namespace

LoadedLibrary load_library(const std::string& folder) {
  return FolderReader(folder).read();
}

namespace {

// What no bottle can be, and what the library has already.
void check_own_solvent(const Solvent& solvent, const Library& library, const Place& place, Findings& findings) {
  constexpr double kLowestBoilingK = 183.15;
  constexpr double kHighestBoilingK = 773.15;
  const auto& boiling_k = solvent.boiling_point_k;
  if (boiling_k && (boiling_k->value < kLowestBoilingK || boiling_k->value > kHighestBoilingK)) {
    findings.error(place, fmt::format("`{}` boils at no temperature at which anything is crystallized", solvent.id),
                   "between -90 °C and 500 °C at 101.325 kPa");
  }
  const bool has_flash_point = solvent.flash_point_k.knowledge == Knowledge::Value;
  if (boiling_k && has_flash_point && solvent.flash_point_k.value > boiling_k->value) {
    findings.error(place, fmt::format("the flash point of `{}` lies above its boiling point", solvent.id),
                   "compare both with the data sheet");
  }
  for (const Solvent& known : library.solvents()) {
    const bool same_cas = !solvent.cas.empty() && solvent.cas == known.cas;
    if (!same_cas && solvent.name != known.name) continue;
    findings.warning(place, fmt::format("the library has this solvent already, as `{}`", known.id),
                     "leave your record out, unless your bottle is another grade");
  }
}

}  // namespace

LoadedLibrary add_solvents(const Library& library, const std::string& path, std::string text,
                           const SubgroupNames& subgroups) {
  LoadedLibrary out;
  const auto document = read_yaml(path, std::move(text), out.findings);
  if (!document) return out;
  auto data = std::make_shared<Library::Data>(library.data());
  std::vector<ReadSolvent> read = read_solvents(
      *document, {false, nullptr, path, library.class_names(), subgroups}, out.findings);
  std::map<std::string, const YamlNode*> first_places;
  for (ReadSolvent& solvent : read) {
    const std::string& id = solvent.solvent.id;
    if (const auto known = data->find(id)) {
      const auto first = first_places.find(id);
      Finding finding{Severity::Error,
                      document->place_of(*solvent.id),
                      fmt::format("the id `{}` is taken", id),
                      "give your solvent another id, such as `" + id + "-own`",
                      {},
                      {}};
      if (first != first_places.end()) {
        finding.note = "it was used here first";
        finding.note_place = document->place_of(*first->second);
      }
      out.findings.add(std::move(finding));
      continue;
    }
    check_own_solvent(solvent.solvent, library, document->place_of(*solvent.id), out.findings);
    first_places.emplace(id, solvent.id);
    data->id_index.emplace(id, SolventId{data->solvents.size()});
    data->habits.push_back({solvent.solvent.usual, 0});
    data->solvents.push_back(std::move(solvent.solvent));
  }
  if (out.findings.has_errors()) return out;
  data->miscibility_of_pair.resize(data->solvents.size() * (data->solvents.size() - 1) / 2,
                                   Library::Data::kNoRecord);
  for (Incompatibility& row : data->incompatibilities) {
    std::vector<std::string> unknown;
    row.solvents = solvents_of_party(*data, row.party_a, unknown);
    if (row.between_solvents) row.second_solvents = solvents_of_party(*data, row.party_b, unknown);
  }
  index_names(*data);
  out.library.emplace(std::move(data));
  return out;
}

}  // namespace firstcrop
