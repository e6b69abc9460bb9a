#pragma once

#include <compare>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace firstcrop {

/// Index of a solvent in its library. A distinct type, so that it is never taken for a count.
struct SolventId {
  std::size_t index = 0;
  friend auto operator<=>(const SolventId&, const SolventId&) = default;
};

/// A number of the library with the keys of its sources (explained in solvents/sources.yaml).
struct SourcedValue {
  double value = 0;    ///< in the unit that the name of the member says
  std::string source;  ///< keys parted by blanks, each perhaps with `:place`
  std::string remark;  ///< what must be known to use it; mostly empty
};

/// log10(p/kPa) = a - b/(t + c), t in kelvin (Antoine, 1888).
struct AntoineEquation {
  double a = 0, b = 0, c = 0;
  double low_k = 0, high_k = 0;  ///< range of the fit
  std::string source;
  std::string remark;
  /// [kPa]; extrapolates outside the range; 0 at and below t = -c, where the equation has its pole.
  [[nodiscard]] double pressure_kpa(double temperature_k) const;
  /// [K] at which the pressure is `pressure_kpa` (> 0); nothing where the equation does not reach it.
  [[nodiscard]] std::optional<double> temperature_k(double pressure_kpa) const;
};

/// density = a + b t, t in kelvin [g/mL].
struct DensityLine {
  double a = 0, b = 0;
  double low_k = 0, high_k = 0;
  std::string source;
  std::string remark;
  /// [g/mL]
  [[nodiscard]] double density_g_ml(double temperature_k) const { return a + b * temperature_k; }
};

/// What is known of a hazard property: a value, "none known" after looking, or not looked at. A blank is
/// never "safe".
enum class Knowledge { Unknown, NoneKnown, Value };

struct SafetyText {
  Knowledge knowledge = Knowledge::Unknown;
  std::string value;
  std::string source;
  std::string remark;
};

struct SafetyNumber {
  Knowledge knowledge = Knowledge::Unknown;
  double value = 0;  ///< in the unit that the name of the member says
  std::string source;
  std::string basis;  ///< e.g. closed cup, ceiling, or why there is none; empty where nothing was said
};

struct SafetyList {
  Knowledge knowledge = Knowledge::Unknown;
  std::vector<std::string> values;
  std::string source;
  std::string remark;
};

/// Counts of mod-UNIFAC (Dortmund) subgroups.
struct UnifacGroups {
  std::map<int, double> counts;  ///< subgroup number -> count (mean counts for mixtures such as ethanol 95 %)
  bool stand_in = false;         ///< groups of a representative compound, or hints only
  bool hint_only = false;        ///< not to be used for boiling points and azeotropes
  std::string source;
  std::string remark;
};

/// A sentence for the bench.
struct SolventRemark {
  std::string topic;  ///< static charge, water, special
  std::string text;
  std::string source;
};

/// Everything about one solvent. What an optional lacks is not known; a safety value tells itself what it is.
struct Solvent {
  std::string id;  ///< lower case with hyphens
  std::string name;
  std::string cas;
  std::string smiles;
  std::string formula;
  std::string family;
  std::string mixture;  ///< what a cut or a mixture stands for; empty for a pure compound
  std::string note;     ///< where sources disagree
  bool is_mixture = false;
  bool from_user = false;            ///< read from a person's own solvent file
  std::vector<std::string> classes;  ///< overlapping chemical classes (alcohols, ethers, chlorinated ...)

  std::optional<SourcedValue> molar_mass_g_mol;
  std::optional<SourcedValue> boiling_point_k;  ///< at 101.325 kPa; always known after reading
  std::optional<SourcedValue> freezing_point_k;
  std::optional<SourcedValue> density_25c_g_ml;
  std::optional<DensityLine> density;
  std::optional<SourcedValue> molar_volume_ml_mol;  ///< at 25 °C, from molar mass and density
  std::optional<AntoineEquation> antoine;
  std::optional<SourcedValue> vapour_pressure_25c_kpa;              ///< from the Antoine equation
  std::optional<SourcedValue> enthalpy_of_vaporization_kj_mol;      ///< at the boiling point
  std::optional<SourcedValue> enthalpy_of_vaporization_25c_kj_mol;  ///< at 25 °C
  std::optional<SourcedValue> permittivity;
  std::optional<SourcedValue> polarity;  ///< E_T(N), 0 (alkane) to 1 (water)
  std::optional<SourcedValue> dipole_d;
  std::optional<SourcedValue> viscosity_mpa_s;
  std::optional<SourcedValue> refractive_index;
  std::optional<SourcedValue> log_kow;
  std::optional<SourcedValue> hansen_d, hansen_p, hansen_h;  ///< MPa^0.5
  /// Abraham gas-to-solvent coefficients c e s a b l at 298.15 K.
  std::optional<std::vector<double>> abraham;
  double abraham_spread = 0;  ///< standard deviation of log10 K; 0 where the coefficients are missing
  std::string abraham_source;
  std::optional<UnifacGroups> unifac;
  std::string unifac_missing;  ///< of a person's own solvent: why it has no groups
  double usual = 0.05;  ///< habit: how usual as a first choice, 0 to 1 (a judgement)

  // safety
  SafetyNumber flash_point_k;
  SafetyNumber autoignition_k;
  SafetyNumber lower_flammable_limit, upper_flammable_limit;  ///< volume fraction in air
  SafetyList hazard_statements;                               ///< CLP H codes as listed
  SafetyList supplier_statements;                             ///< what suppliers usually add
  SafetyList euh_statements;
  SafetyText signal_word;
  SafetyList pictograms;
  SafetyText q3c_class;  ///< ICH Q3C: 1, 2, 3 or `not-listed`
  SafetyNumber q3c_limit_ppm;
  SafetyNumber q3c_daily_mg;
  SafetyNumber osha_limit_ppm, niosh_limit_ppm, idlh_ppm;
  SafetyText iarc_group;
  SafetyText ntp_listing;        ///< known, reasonably-anticipated
  SafetyText peroxide_class;     ///< A, B, C, none-known, unknown
  SafetyText temperature_class;  ///< T1 to T6, from the autoignition temperature (IEC 60079-20-1)
  std::vector<SolventRemark> remarks;
};

}  // namespace firstcrop
