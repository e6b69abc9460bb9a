#include "systems/knowledge_base.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/error.hpp"
#include "input/yaml_reader.hpp"
#include "library/library_loader.hpp"
#include "phase/group_contributions.hpp"

namespace firstcrop {
namespace {

SolubilityModel load_model(const std::string& path, bool is_users, Findings& findings, bool& usable) {
  auto parsed = SolubilityModel::parse(read_file(path));
  if (auto* model = std::get_if<SolubilityModel>(&parsed)) return std::move(*model);
  const std::string& message = std::get<std::string>(parsed);
  if (!is_users) throw Error(fmt::format("the fitted model {} is damaged: {}", path, message));
  findings.error(Place{path, 0, 0, 1, {}}, message, "write it with the fit tool of tests/calibration");
  usable = false;
  return SolubilityModel(nullptr);
}

// A person's own solvent joins the model where its record holds all that the model asks of a solvent.
std::optional<SolventTraits> traits_of(const Solvent& solvent) {
  if (!solvent.abraham || solvent.abraham->size() != 6 || !solvent.hansen_d || !solvent.hansen_p ||
      !solvent.hansen_h || !solvent.molar_volume_ml_mol) {
    return std::nullopt;
  }
  SolventTraits out;
  out.id = solvent.id;
  std::copy(solvent.abraham->begin(), solvent.abraham->end(), out.abraham.begin());
  out.hansen_sqrt_mpa = {solvent.hansen_d->value, solvent.hansen_p->value, solvent.hansen_h->value};
  out.molar_volume_ml_mol = solvent.molar_volume_ml_mol->value;
  const auto is = [&solvent](const char* name) {
    return std::find(solvent.classes.begin(), solvent.classes.end(), name) != solvent.classes.end();
  };
  out.hydrocarbon_share = is("alkanes") ? 1.0 : is("aromatics") || is("arenes") ? 0.4 : 0.0;
  return out;
}

}  // namespace

std::optional<double> KnowledgeBase::molar_volume_ml_mol(SolventId solvent) const {
  const auto& recorded = library.solvent(solvent).molar_volume_ml_mol;
  if (recorded) return recorded->value;
  const auto lent = borrowed.find(solvent.index);
  return lent == borrowed.end() ? std::nullopt : std::optional(lent->second.traits.molar_volume_ml_mol);
}

bool KnowledgeBase::is_borrowed(const std::vector<SolventId>& solvents) const {
  return std::any_of(solvents.begin(), solvents.end(),
                     [this](SolventId solvent) { return borrowed.count(solvent.index) == 1; });
}

SubgroupNames subgroup_names(const UnifacParameters& parameters) {
  SubgroupNames out;
  for (const UnifacSubgroup& subgroup : parameters.subgroups()) out.emplace(subgroup.name, subgroup.number);
  return out;
}

std::optional<KnowledgeBase> load_knowledge(const KnowledgeFiles& files, Findings& findings) {
  const std::string folder = files.data_folder + "/solvents";
  LoadedLibrary loaded = load_library(folder);
  findings.append(loaded.findings);
  if (!loaded.library) return std::nullopt;
  Library library = std::move(*loaded.library);
  bool usable = true;
  auto contributions = load_group_contributions(folder + "/group-contributions.yaml", findings);
  if (!contributions) return std::nullopt;
  for (const std::string& path : files.solvent_files) {
    LoadedLibrary added = add_solvents(library, path, read_file(path), subgroup_names(*contributions));
    findings.append(added.findings);
    if (added.library) {
      library = std::move(*added.library);
    } else {
      usable = false;
    }
  }
  SolubilityModel model = load_model(files.model_file.value_or(folder + "/solubility-model.txt"),
                                     files.model_file.has_value(), findings, usable);
  if (!usable) return std::nullopt;
  std::vector<SolventTraits> further;
  std::map<std::size_t, BorrowedTraits> borrowed;
  for (std::size_t i = 0; i < library.solvents().size(); ++i) {
    const Solvent& solvent = library.solvents()[i];
    if (!solvent.from_user) continue;
    if (auto traits = traits_of(solvent)) {
      further.push_back(std::move(*traits));
    } else if (auto lent = borrow_traits(solvent, library, *contributions, model)) {
      further.push_back(lent->traits);
      borrowed.emplace(i, std::move(*lent));
    }
  }
  if (!further.empty()) model = model.with_solvents(further);
  std::vector<std::optional<std::size_t>> index;
  for (const Solvent& solvent : library.solvents()) {
    const auto& ids = model.solvent_ids();
    const auto found = std::find(ids.begin(), ids.end(), solvent.id);
    index.push_back(found == ids.end()
                        ? std::nullopt
                        : std::optional<std::size_t>(static_cast<std::size_t>(found - ids.begin())));
  }
  PhaseModel phase(library, std::move(*contributions));
  return KnowledgeBase{std::move(library), std::move(phase), std::move(model), folder, std::move(index), std::move(borrowed)};
}

}  // namespace firstcrop
