#include "systems/solid_lookup.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <variant>

#include <fmt/format.h>

namespace firstcrop {
namespace {

// A melting point further than this from the printed one speaks of another form or another solid. Judged.
constexpr double kStrangeMeltingPointK = 8;
constexpr double kZeroCelsiusK = 273.15;

// The solid as the model shall see it: a tautomer as our tables draw it.
std::optional<Solute> as_drawn_in_tables(const KnownSolid& known, const KnowledgeBase& knowledge) {
  const auto parsed = parse_smiles(known.canonical_smiles);
  const auto* molecule = std::get_if<Molecule>(&parsed);
  if (molecule == nullptr) return std::nullopt;
  WrittenImpurity drawn;
  drawn.molecule = *molecule;
  return make_impurity(drawn, knowledge.library.groups(), knowledge.library.descriptor_scheme());
}

}  // namespace

SoluteInput model_input(const Solute& solute) {
  SoluteInput input;
  input.structure_features = solute.structure_features;
  input.group_features = solute.group_features;
  if (solute.melting_point) input.melting_point_k = solute.melting_point->value;
  input.molar_mass_g_mol = solute.molar_mass.value;
  input.canonical_smiles = solute.canonical_smiles;
  input.canonical_smiles_without_stereo = solute.canonical_smiles_without_stereo;
  return input;
}

SoluteInput model_input(const Inquiry& inquiry, bool as_unknown) {
  SoluteInput out = model_input(inquiry.solute);
  out.as_unknown = as_unknown;
  if (inquiry.known && !out.melting_point_k) out.melting_point_k = inquiry.known->melting_point_k;
  if (!inquiry.known || inquiry.known->curves.empty()) {
    // Stereoisomers of another melting point are other solids; the model would not tell them apart.
    out.as_unknown = true;
    return out;
  }
  const KnownSolid& known = *inquiry.known;
  if (known.match == SolidMatch::Tautomer) {
    if (const auto drawn = as_drawn_in_tables(known, *inquiry.knowledge)) {
      out.structure_features = drawn->structure_features;
      out.group_features = drawn->group_features;
      out.canonical_smiles_without_stereo = drawn->canonical_smiles_without_stereo;
    }
  }
  out.canonical_smiles = known.canonical_smiles;
  return out;
}

// Median slope of each solvent, where temperatures were enough for one.
std::vector<MeasuredEnthalpy> measured_enthalpies(const Inquiry& inquiry) {
  std::map<std::size_t, std::vector<double>> by_solvent;
  for (const MeasuredCurve& curve : inquiry.known->curves) {
    const auto solvent = inquiry.knowledge->library.find_id(curve.solvent);
    const auto index = solvent ? inquiry.knowledge->in_model(*solvent) : std::nullopt;
    if (!index || !curve.enthalpy_kj_mol || !curve.doubt.empty()) continue;
    by_solvent[*index].push_back(*curve.enthalpy_kj_mol);
  }
  std::vector<MeasuredEnthalpy> out;
  for (auto& [solvent, slopes] : by_solvent) {
    std::sort(slopes.begin(), slopes.end());
    const std::size_t middle = slopes.size() / 2;
    const double median =
        slopes.size() % 2 == 1 ? slopes[middle] : (slopes[middle - 1] + slopes[middle]) / 2;
    out.push_back({solvent, median});
  }
  return out;
}

void look_up_solid(Inquiry& inquiry, Findings& findings) {
  const SoluteFile& file = inquiry.file;
  if (!file.molecule) return;
  const std::string& folder = inquiry.knowledge->solids_folder;
  std::optional<double> melting_point_k;
  if (file.melting_point) melting_point_k = file.melting_point->middle();
  inquiry.known = find_known_solid(folder, {*file.molecule, melting_point_k});
  if (!inquiry.known) {
    if (const auto parent = file.molecule->neutral_parent()) {
      // An amino acid drawn with its charges is the same substance as drawn without; a salt is another one.
      const StructureKind kind = file.molecule->kind();
      const bool same_substance = kind.zwitterion && !kind.salt && !kind.hydrate && !kind.solvate;
      auto known = find_known_solid(folder, {*parent, same_substance ? melting_point_k : std::nullopt});
      if (known && same_substance) {
        inquiry.known = std::move(known);
        inquiry.known->match = SolidMatch::Tautomer;
      } else if (known) {
        inquiry.known_parent = known->name;
      }
    }
  }
  if (!inquiry.known) return;
  const std::optional<double>& published = inquiry.known->melting_point_k;
  if (melting_point_k && published && std::abs(*melting_point_k - *published) > kStrangeMeltingPointK) {
    findings.warning(
        file.melting_point_place,
        fmt::format("our tables give {:.0f} °C for {}", *published - kZeroCelsiusK, inquiry.known->name),
        "another form, an impure sample, or another substance? State the clear point of the pure solid");
  }
}

}  // namespace firstcrop
