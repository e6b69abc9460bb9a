#pragma once

#include <map>
#include <optional>
#include <string>

#include "base/finding.hpp"
#include "library/solvent.hpp"
#include "phase/miscibility_graph.hpp"
#include "phase/phase_model.hpp"

namespace firstcrop {

/// What a step of a solvent exchange costs (`solvents/exchange-costs.yaml`): judged, for ordering chains.
struct ExchangeCosts {
  double step = 0;
  double unpublished_chance = 0;  ///< of one liquid, from which a pair without a published record counts as mixing
  double slow_drying = 0;         ///< for a solvent that boils above `slow_drying_above_k`, in the order of rinsing chains
  double slow_drying_above_k = 0;
  std::map<std::string, std::map<std::string, double>> hazards;  ///< kind -> mark -> cost
  double residue = 0;           ///< share of the old solvent that may stay when it is distilled out
  double least_volatility = 0;  ///< of a trace in the boiling new solvent, relative to it
  double most_volumes = 0;      ///< of new solvent for one of the old
  double most_between = 0;      ///< solvents between the ends of a chain of distillations
};

/// A solvent leaves with the next as a published azeotrope that comes over as two layers: one runs off, the other back.
struct SeparatorStep {
  double temperature_k = 0;
  std::optional<double> volumes;  ///< of the next that distil with one of the old, and run back
};

/// Throws Error where the file cannot be read; all that is wrong inside it is a finding, and then there is no
/// value.
[[nodiscard]] std::optional<ExchangeCosts> load_exchange_costs(const std::string& path, Findings& findings);
/// The same from a text; `path` is for the findings.
[[nodiscard]] std::optional<ExchangeCosts> read_exchange_costs(std::string path, std::string text,
                                                               Findings& findings);

/// What the marks of a solvent cost: of each kind the dearest, added up.
[[nodiscard]] double hazard_cost(const Solvent& solvent, const ExchangeCosts& costs);

/// Volumes of new solvent, for one of the old, that must distil until only `residue` of the old stays, for a
/// trace of relative volatility `volatility`: (1/residue)^(1/(volatility - 1)) - 1, the Rayleigh distillation
/// at constant volatility. Nothing at a volatility of at most 1.
[[nodiscard]] std::optional<double> volumes_to_strip(double volatility, double residue);

/// Steps by rinsing: the step and the hazards of the next solvent, both ways. Refers to `model` and `costs`.
[[nodiscard]] StepCost rinse_cost(const PhaseModel& model, const ExchangeCosts& costs);

/// Nothing where no such azeotrope of the two is published (what is only remembered does not count); at a pressure [kPa].
[[nodiscard]] std::optional<SeparatorStep> separator_step(const PhaseModel& model, SolventId from, SolventId to,
                                                          double pressure_kpa);

/// Steps by distillation: from a to b only where a can be distilled out of boiling b at this pressure [kPa],
/// or leaves with it into a separator; the volumes count as ln(1 + volumes). Refers to `model` and `costs`.
[[nodiscard]] StepCost strip_cost(const PhaseModel& model, const ExchangeCosts& costs, double pressure_kpa);

/// Steps by how unsure they are: -ln(chance of one liquid). Refers to `graph`.
[[nodiscard]] StepCost doubt_cost(const MiscibilityGraph& graph);

}  // namespace firstcrop
