#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "plan/mass_balance.hpp"

namespace firstcrop {

/// What a given answer speaks of.
enum class ClaimedFigure { Recovery, Volume, Crystals, Liquor, Purity };

/// `recovery`, `volume`, `crystals`, `liquor`, `purity`.
[[nodiscard]] std::string_view name_of(ClaimedFigure figure);
[[nodiscard]] std::optional<ClaimedFigure> claimed_figure_of(std::string_view word);

/// An answer that somebody gave. `volume` is the minimum volume.
struct Claim {
  ClaimedFigure figure = ClaimedFigure::Recovery;
  double value = 0;         ///< a share, mL or mg
  double half_of_last = 0;  ///< half a unit of the last figure that was written, same unit
};

/// How well a number agrees with what a slip gives.
enum class Agreement { Exact, RoundedOnTheWay, Roughly };

/// A usual slip and what it gives.
struct Slip {
  std::string id;           ///< `loss-reported-as-recovery`
  std::string explanation;  ///< what was done and what should have been done
  double value = 0;         ///< that it leads to, as in Claim
  Agreement agreement = Agreement::Exact;
};

enum class ClaimVerdict { Right, RightRounded, Wrong };

struct ClaimDiagnosis {
  Claim claim;
  double right = 0;  ///< the true value
  ClaimVerdict verdict = ClaimVerdict::Wrong;
  std::vector<Slip> slips;                ///< that give the claim, the best explanation first; of a wrong claim only
  bool right_is_isolated = false;       ///< the right recovery is isolated over product
  std::optional<double> above_limit;      ///< the recovery limit, where the right recovery lies above it
  std::optional<double> mass_it_fits_mg;  ///< product for which a claimed volume would be right
  std::optional<double> volume_it_fits_ml;  ///< for which other claims would be right
};

/// How the solubilities were written: the volumes of solvent that the numbers stood on.
struct WrittenVolumes {
  double hot_ml = 1;
  double cold_ml = 1;
};

/// The true value of what is claimed; nothing where the amounts do not give it.
[[nodiscard]] std::optional<double> true_value(ClaimedFigure figure, const MassBalance& balance);

/// Compares a claim with the sum and looks for the usual slip that gives it. Nothing where the amounts do not give
/// the figure.
[[nodiscard]] std::optional<ClaimDiagnosis> diagnose(const Claim& claim, const ChargeAmounts& charge,
                                                     const WrittenVolumes& basis);

}  // namespace firstcrop
