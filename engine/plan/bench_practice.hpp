#pragma once

namespace firstcrop::practice {

// The numbers of the trade that the bench sheet counts with. Each says what it rests on; "judged" means that nobody
// measured it. What the sheet says in words, and when, stands in rules/bench.yaml.

/// Liquor that a sucked cake holds [mL per mg of crystals]. 0.3 to 1 mL/g by memory, needles more; judged.
inline constexpr double kHeldLiquorMlMg = 0.5e-3;
/// Liquor shut in inside the crystals [mL per mg]. Judged.
inline constexpr double kIncludedLiquorMlMg = 0.02e-3;
/// Wash, in all portions [mL per mg of crystals]: twice what the cake holds; judged.
inline constexpr double kWashMlMg = 1.0e-3;
/// The wash is at most this share of the liquor: 10 to 20 % by memory.
inline constexpr double kLargestWashShare = 0.15;
/// More solvent for a hot filtration, as share of the volume. Course texts give 5 to 25 %.
inline constexpr double kFilterExtraShare = 0.2;
/// Share of the hot solution that paper and funnel keep. Judged.
inline constexpr double kFilterHeldShare = 0.02;
/// Charcoal in all, as share of the crude: 1 to 2 % is the classic dose (course texts: 1 to 10 %).
inline constexpr double kCharcoalShare = 0.02;
/// Product that charcoal keeps, by its own mass. Judged.
inline constexpr double kCharcoalHolds = 0.5;
/// Share of the crop that stays on paper, glass and spatula, and a mass whatever the scale [mg]. Judged.
inline constexpr double kTransferShare = 0.01;
inline constexpr double kTransferMg = 5;
inline constexpr double kTransferInTubeMg = 1;
/// Below this charge everything is done in one tube [mg] (course texts on small scale: up to 100 mg).
inline constexpr double kTubeChargeMg = 100;
/// Hirsch funnel below, Buchner funnel from here on [mg]; by memory.
inline constexpr double kBuchnerChargeMg = 1000;
/// No vessel is filled higher than this (course texts: half, at most two thirds).
inline constexpr double kLargestFill = 2.0 / 3;
/// A flask is chosen for no more than this many times the middle volume, however wide the range. Judged.
inline constexpr double kFlaskForMiddle = 3;
/// Nobody works with more hot solvent than this [mL per mg]. Judged: 1 L for a gram.
inline constexpr double kMostSolventMlMg = 1;
/// No stronger hot solution is worked with [mg/mL]; the rule `working-solubility` says the same.
inline constexpr double kWorkableMgMl = 300;
/// A volume known no better than within this factor is no volume to begin with: first a tube. Judged.
inline constexpr double kWidestVolume = 100;
/// Density of the solid where its bulk counts [g/mL]. Judged.
inline constexpr double kSolidDensityGMl = 1.27;
/// The liquor is boiled down to this share for a second crop (course texts: a half to a tenth).
inline constexpr double kSecondCropVolumeShare = 1.0 / 3;
/// An ice step is told where the bath is this much colder than the room [K]. Judged.
inline constexpr double kIceSpanK = 8;
/// A second crop is told from this share of the charge on. Judged.
inline constexpr double kSecondCropShare = 0.02;

/// A flask of 100 to 150 mL on an insulating layer takes some 20 minutes to room temperature, then at least
/// 5 minutes in ice and water (common practice, no source). Larger ones take longer as volume over surface does.
inline constexpr double kCoolingFlaskMl = 125;
inline constexpr double kCoolingMin = 20;
/// Left alone for good crystals it takes up to this many times as long (1 to 2 hours by memory).
inline constexpr double kSlowCoolingFactor = 3;
inline constexpr double kSlowestCoolingMin = 180;
inline constexpr double kIceLowMin = 10;
inline constexpr double kIceHighMin = 20;

}  // namespace firstcrop::practice
