#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "solubility/observations.hpp"
#include "solubility/posterior.hpp"
#include "solute/known_solid.hpp"
#include "solute/solute.hpp"
#include "systems/aim.hpp"
#include "systems/knowledge_base.hpp"
#include "systems/reactions.hpp"
#include "systems/solubility_scenarios.hpp"

namespace firstcrop {

/// What the person's own file says of one system (of either order and any ratio).
struct SystemEvidence {
  int tubes = 0;
  int values = 0;
  int curves = 0;      ///< measured curves of our own tables
  std::string source;  ///< of the values and curves
  std::optional<double> wet_melting_point_k;
  std::optional<std::string> outcome;  ///< works, too-soluble-cold, insoluble-hot, oils, reacts
  std::string outcome_source;
  bool outcome_from_tables = false;
  [[nodiscard]] bool is_measured() const { return tubes + values + curves > 0; }
};

/// A named impurity as the model sees it.
struct ImpurityPrediction {
  std::string name;
  double molar_mass_g_mol = 0;
  double share = 0;  ///< of the crude
  bool share_assumed = false;
  SolubilityState state;
};

/// One solid, one aim, and everything that follows from them before any system is looked at.
struct Inquiry {
  const KnowledgeBase* knowledge = nullptr;  ///< must outlive it
  SoluteFile file;
  Solute solute;
  Aim aim;
  double pressure_kpa = 101.325;
  ReactionSetting reactions;
  SolubilityPrior prior;
  SolubilityState before_learning;  ///< what is expected before values and tubes of the file are taken in
  std::vector<KnownValue> values;  ///< what was taken in: of the file and, for a solid outside the fit, of our tables
  std::vector<Tube> tubes;         ///< in the order of the file; `place` is the line of the trial
  Posterior posterior;
  double melting_point_k = 0;
  double melting_point_sd_k = 0;                  ///< 0 where it was given or is published
  Origin melting_point_origin = Origin::Assumed;  ///< given, published, or assumed where it was estimated
  std::optional<KnownSolid> known;                ///< what our tables say of the solid; not asked with `as_unknown`
  std::optional<std::string> known_parent;        ///< name of the neutral solid of a salt or hydrate, if our tables have it
  SolubilityScenarios scenarios;
  std::vector<ImpurityPrediction> impurities;
  std::map<std::string, SystemEvidence> evidence;  ///< by `evidence_key`

  [[nodiscard]] const SystemEvidence* evidence_of(const System& system) const;
};

/// Ids of the solvents, sorted and joined: the same for `a+b` and `b+a`, whatever the ratio.
[[nodiscard]] std::string evidence_key(const System& system, const Library& library);

/// Works out an inquiry. Unknown solvent names in the file, and what the model cannot take in, are findings;
/// nothing is returned where any of them is an error.
[[nodiscard]] std::optional<Inquiry> make_inquiry(const KnowledgeBase& knowledge, const SoluteFile& file,
                                                  const AimOptions& options, bool as_unknown,
                                                  Findings& findings);

/// The same inquiry as if only the first `tube_count` tubes had been made: solubilities and scenarios, nothing
/// else. Two runs of it tell what a tube taught.
[[nodiscard]] Inquiry with_first_tubes(const Inquiry& inquiry, std::size_t tube_count);
/// The same inquiry as if these tubes stood in its file too: all observations are taken in together and the
/// scenarios drawn anew, from the same scores. A tube in a solvent that the model does not know changes nothing.
[[nodiscard]] Inquiry with_tubes(const Inquiry& inquiry, const std::vector<Trial>& trials);

/// Warnings about observations of the file that were not taken in, or that disagree with the rest.
void report_learning(const Posterior& posterior, const SoluteFile& file, Findings& findings);

/// Words and names that solute files may use, from the library; `knowledge` must outlive them.
[[nodiscard]] SoluteVocabulary vocabulary_of(const KnowledgeBase& knowledge);

}  // namespace firstcrop
