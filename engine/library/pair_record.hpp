#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "library/solvent.hpp"

namespace firstcrop {

enum class MiscibilityClass { Miscible, Partial, Immiscible };
enum class PairEvidence { Published, Calculated, ByClass };
enum class Confidence { Low, Medium, High };

[[nodiscard]] std::string_view name_of(MiscibilityClass miscibility);
[[nodiscard]] std::string_view name_of(PairEvidence evidence);
[[nodiscard]] std::string_view name_of(Confidence confidence);

/// What is known of one unordered pair at about 25 °C. `first` < `second` by id text.
struct MiscibilityRecord {
  SolventId first, second;
  MiscibilityClass miscibility = MiscibilityClass::Miscible;
  PairEvidence evidence = PairEvidence::ByClass;
  Confidence confidence = Confidence::Low;
  double temperature_k = 298.15;
  std::optional<double> first_in_second_weight_percent;  ///< of the first in the saturated second liquid
  std::optional<double> second_in_first_weight_percent;
  std::optional<double> upper_critical_temperature_k;  ///< UCST
  bool upper_critical_from_memory = false;
  std::string source;
  std::string note;
};

/// Two solvents that boil together at a fixed composition, at 101.325 kPa. `first` < `second` by id text.
struct AzeotropeRecord {
  SolventId first, second;
  double temperature_k = 0;
  std::optional<double> first_weight_percent;  ///< of the vapour
  std::string kind;                            ///< minimum, maximum, heterogeneous
  bool heterogeneous = false;
  std::string evidence;  ///< published, fit, memory, calculated
  std::string source;
  std::optional<double> check_temperature_k;         ///< by an independent method
  std::optional<double> check_first_weight_percent;  ///< by an independent method
  std::string check_method;                          ///< unifac, fit, vapour-pressures; empty where none
  std::string note;
};

}  // namespace firstcrop
