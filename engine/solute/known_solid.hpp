#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/finding.hpp"
#include "solute/solute_file.hpp"
#include "structure/molecule.hpp"

namespace firstcrop {

/// One straight line of log10 S against 1/T, drawn through the measurements of one source.
struct MeasuredCurve {
  std::string solvent;                    ///< id
  std::optional<double> level;            ///< log10 [mol per litre of solution] at 298.15 K
  std::optional<double> enthalpy_kj_mol;  ///< slope; nothing: too few temperatures
  double coldest_k = 0;                   ///< range of the measurements
  double hottest_k = 0;
  int points = 0;
  std::string source;  ///< DOI or paper
  std::string doubt;   ///< why the line is not used; empty: it is
};

/// What somebody recrystallized the solid from, or tried to.
struct PublishedUse {
  std::string system;  ///< ids; a pair without its ratio
  PublishedOutcome outcome = PublishedOutcome::Works;
  std::optional<double> volume_ml_g;
  std::optional<double> recovery;       ///< share, 0 to 1
  std::optional<double> oils_above_k;   ///< above this it separates as an oil
  std::string source;
  bool from_memory = false;  ///< the source was recalled and not read again
};

/// How a solid of the tables was recognised.
enum class SolidMatch { Same, StereoNotDrawn, OtherStereoMarks, Tautomer };

/// What our own tables say of one solid: measured curves, published systems, or both.
struct KnownSolid {
  std::string name;
  std::string canonical_smiles;
  SolidMatch match = SolidMatch::Same;
  std::optional<double> melting_point_k;
  std::vector<MeasuredCurve> curves;      ///< doubtful ones too
  std::vector<PublishedUse> published;    ///< read before recalled, working before failing
};

/// What is asked of the tables.
struct SolidIdentity {
  Molecule molecule;
  std::optional<double> melting_point_k;  ///< tells stereoisomers apart
};

/// Looks a solid up by its structure: as drawn; else with other or no stereo marks, where the melting point
/// does not speak against it by more than 8 K; else as a tautomer. `folder` holds solids.csv,
/// solubility-curves.csv and published-systems.csv; throws Error where one of them cannot be read or is
/// damaged.
[[nodiscard]] std::optional<KnownSolid> find_known_solid(const std::string& folder,
                                                         const SolidIdentity& identity);

/// Checks the three tables: numbers, outcomes, solvents among `solvent_ids`, structures that can be read and
/// stand in their canonical form. Faults are findings.
void check_known_solids(const std::string& folder, const std::vector<std::string>& solvent_ids,
                        Findings& findings);

}  // namespace firstcrop
