#include "systems/borrowed_traits.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "solubility/prior.hpp"

namespace firstcrop {

namespace {

// How far two solvents may lie apart in one property and still be alike: judged by leaving each library solvent out.
constexpr double kPolarityScale = 0.08;
constexpr double kBoilingScaleK = 60;
constexpr double kLogVolumeScale = 0.35;
constexpr double kHansenScale = 2.0;
constexpr double kLogKowScale = 0.8;
constexpr double kLogPermittivityScale = 0.5;
constexpr double kDipoleScaleD = 1.0;
constexpr double kRefractiveScale = 0.06;
constexpr double kClassScale = 0.35;
constexpr double kGroupScale = 0.15;
// Solvents with less than this share of the largest weight do not lend.
constexpr double kLeastShare = 0.1;
constexpr std::size_t kMostLenders = 6;
// Variance that borrowing adds: a floor, this share of the disagreement between the lenders, and so much for each unit of
// unlikeness of the nearest; all three from leaving each library solvent out [log10 units squared].
constexpr double kFloorVariance = 0.01;
constexpr double kDisagreementShare = 0.8;
constexpr double kVarianceOfUnlikeness = 0.02;
constexpr double kMostUnlikeness = 10;
// A lender without groups counts as this far away from a solvent with groups.
constexpr double kGroupsUnknown = 0.5;

using Optional = std::optional<SourcedValue>;

std::optional<double> difference(const Optional& first, const Optional& second) {
  if (!first || !second) return std::nullopt;
  return first->value - second->value;
}

std::optional<double> log_ratio(const Optional& first, const Optional& second) {
  if (!first || !second || first->value <= 0 || second->value <= 0) return std::nullopt;
  return std::log(first->value / second->value);
}

// Main groups that behave much alike toward solids, each with the one that stands for both: rings and chains, alcohols
// with methanol and glycol, ethers, aromatics, chloroalkanes, esters with carbonates, acids, amides, sulfur oxides.
int kin_of(int main_group) {
  static const std::map<int, int> kin{{42, 1},  {6, 5},   {31, 5},  {43, 13}, {4, 3},   {22, 21}, {23, 21},
                                      {24, 21}, {45, 21}, {37, 21}, {41, 11}, {12, 11}, {55, 11}, {44, 20},
                                      {46, 39}, {47, 39}, {48, 39}, {49, 39}, {56, 35}, {10, 9}};
  const auto found = kin.find(main_group);
  return found == kin.end() ? main_group : found->second;
}

/// Share of the surface by kin of main groups.
std::map<int, double> surface_shares(const Solvent& solvent, const UnifacParameters& parameters) {
  std::map<int, double> out;
  if (!solvent.unifac || solvent.unifac->hint_only) return out;
  double sum = 0;
  for (const auto& [number, count] : solvent.unifac->counts) {
    const UnifacSubgroup* subgroup = parameters.subgroup(number);
    if (subgroup == nullptr) continue;
    const double surface = count * std::max(subgroup->surface_q, 0.05);
    out[kin_of(subgroup->main_group)] += surface;
    sum += surface;
  }
  for (auto& [group, share] : out) share /= sum;
  return out;
}

std::optional<double> group_distance(const std::map<int, double>& first, const std::map<int, double>& second) {
  if (first.empty()) return std::nullopt;
  if (second.empty()) return kGroupsUnknown;
  double apart = 0;
  for (const auto& [group, share] : first) {
    const auto other = second.find(group);
    apart += std::abs(share - (other == second.end() ? 0 : other->second));
  }
  for (const auto& [group, share] : second)
    if (first.find(group) == first.end()) apart += share;
  return apart / 2;
}

std::optional<double> class_distance(const Solvent& first, const Solvent& second) {
  if (first.classes.empty() || second.classes.empty()) return std::nullopt;
  double common = 0;
  for (const std::string& word : first.classes)
    if (std::find(second.classes.begin(), second.classes.end(), word) != second.classes.end()) ++common;
  const double all = static_cast<double>(first.classes.size() + second.classes.size()) - common;
  return 1 - common / all;
}

/// One property by which solvents are compared: in words, its key, and the scaled distance.
struct Comparison {
  const char* words;
  const char* key;
  std::optional<double> distance;
};

// A boiling point, a density and a refractive index are shared by solvents that dissolve nothing alike: left out in turn,
// library solvents known by their boiling point alone were wrong by a factor of seven.
bool tells_what_it_dissolves(const Solvent& solvent, const std::map<int, double>& groups) {
  return !groups.empty() || !solvent.classes.empty() || solvent.polarity || solvent.hansen_h || solvent.abraham ||
         solvent.log_kow || solvent.permittivity || solvent.dipole_d;
}

std::vector<Comparison> comparisons(const Solvent& a, const std::map<int, double>& groups_a, const Solvent& b,
                                    const std::map<int, double>& groups_b) {
  const auto scaled = [](std::optional<double> distance, double scale) {
    return distance ? std::optional(*distance / scale) : std::nullopt;
  };
  return {{"groups", "smiles", scaled(group_distance(groups_a, groups_b), kGroupScale)},
          {"polarity", "polarity", scaled(difference(a.polarity, b.polarity), kPolarityScale)},
          {"classes", "classes", scaled(class_distance(a, b), kClassScale)},
          {"molar volume", "density", scaled(log_ratio(a.molar_volume_ml_mol, b.molar_volume_ml_mol), kLogVolumeScale)},
          {"boiling point", "boiling_point", scaled(difference(a.boiling_point_k, b.boiling_point_k), kBoilingScaleK)},
          {"Hansen d", "hansen", scaled(difference(a.hansen_d, b.hansen_d), kHansenScale)},
          {"Hansen p", "hansen", scaled(difference(a.hansen_p, b.hansen_p), kHansenScale)},
          {"Hansen h", "hansen", scaled(difference(a.hansen_h, b.hansen_h), kHansenScale)},
          {"log P", "log_kow", scaled(difference(a.log_kow, b.log_kow), kLogKowScale)},
          {"permittivity", "permittivity", scaled(log_ratio(a.permittivity, b.permittivity), kLogPermittivityScale)},
          {"dipole moment", "dipole", scaled(difference(a.dipole_d, b.dipole_d), kDipoleScaleD)},
          {"refractive index", "refractive_index", scaled(difference(a.refractive_index, b.refractive_index), kRefractiveScale)}};
}

struct Lender {
  SolventId solvent;
  std::size_t in_model = 0;
  double weight = 0;  ///< at first the squared distance
};

// The model's own idea of how much the level of an unknown solid differs between the lenders.
double disagreement(const std::vector<Lender>& lenders, const SolubilityPrior& unknown_solid) {
  double mean = 0;
  for (const Lender& each : lenders) mean += each.weight * unknown_solid.mean[each.in_model];
  double out = 0;
  for (const Lender& first : lenders) {
    const double off = unknown_solid.mean[first.in_model] - mean;
    out += first.weight * (off * off + unknown_solid.covariance(first.in_model, first.in_model));
    for (const Lender& second : lenders)
      out -= first.weight * second.weight * unknown_solid.covariance(first.in_model, second.in_model);
  }
  return std::max(out, 0.0);
}

}  // namespace

std::optional<BorrowedTraits> borrow_traits(const Solvent& solvent, const Library& library,
                                            const UnifacParameters& parameters, const SolubilityModel& model,
                                            std::optional<SolventId> left_out) {
  const auto own_groups = surface_shares(solvent, parameters);
  if (!tells_what_it_dissolves(solvent, own_groups)) return std::nullopt;
  std::vector<Lender> lenders;
  BorrowedTraits out;
  for (std::size_t i = 0; i < library.solvents().size(); ++i) {
    const Solvent& other = library.solvents()[i];
    if (other.from_user || other.id == solvent.id || left_out == SolventId{i}) continue;
    const auto& ids = model.solvent_ids();
    const auto place = std::find(ids.begin(), ids.end(), other.id);
    if (place == ids.end()) continue;
    double squares = 0;
    for (const Comparison& each : comparisons(solvent, own_groups, other, surface_shares(other, parameters)))
      if (each.distance) squares += *each.distance * *each.distance;
    lenders.push_back({SolventId{i}, static_cast<std::size_t>(place - ids.begin()), squares});
  }
  if (lenders.empty()) return std::nullopt;
  std::sort(lenders.begin(), lenders.end(), [](const Lender& a, const Lender& b) { return a.weight < b.weight; });
  if (lenders.size() > kMostLenders) lenders.resize(kMostLenders);
  const double nearest = lenders.front().weight;
  double sum = 0;
  for (Lender& each : lenders) {
    each.weight = std::exp(-(each.weight - nearest) / 2);
    if (each.weight < kLeastShare) each.weight = 0;
    sum += each.weight;
  }
  std::erase_if(lenders, [](const Lender& each) { return each.weight == 0; });
  SolventTraits& traits = out.traits;
  traits.id = solvent.id;
  for (Lender& each : lenders) {
    each.weight /= sum;
    const SolventTraits& lent = model.solvents()[each.in_model];
    for (std::size_t k = 0; k < traits.abraham.size(); ++k) traits.abraham[k] += each.weight * lent.abraham[k];
    for (std::size_t k = 0; k < traits.hansen_sqrt_mpa.size(); ++k)
      traits.hansen_sqrt_mpa[k] += each.weight * lent.hansen_sqrt_mpa[k];
    traits.molar_volume_ml_mol += each.weight * lent.molar_volume_ml_mol;
    traits.hydrocarbon_share += each.weight * lent.hydrocarbon_share;
    out.lenders.emplace_back(each.solvent, each.weight);
  }
  if (solvent.molar_volume_ml_mol) traits.molar_volume_ml_mol = solvent.molar_volume_ml_mol->value;
  if (solvent.hansen_d && solvent.hansen_p && solvent.hansen_h)
    traits.hansen_sqrt_mpa = {solvent.hansen_d->value, solvent.hansen_p->value, solvent.hansen_h->value};
  if (solvent.abraham && solvent.abraham->size() == traits.abraham.size())
    std::copy(solvent.abraham->begin(), solvent.abraham->end(), traits.abraham.begin());
  const Solvent& like = library.solvent(lenders.front().solvent);
  for (const Comparison& each : comparisons(solvent, own_groups, like, surface_shares(like, parameters))) {
    std::vector<std::string>& list = each.distance ? out.compared : out.helpful;
    const std::string word = each.distance ? each.words : each.key;
    if (std::find(list.begin(), list.end(), word) == list.end()) list.push_back(word);
  }
  traits.borrowed_variance =
      kFloorVariance + kDisagreementShare * disagreement(lenders, predict(model, SoluteInput{})) +
      kVarianceOfUnlikeness * std::min(nearest, kMostUnlikeness);
  return out;
}

}  // namespace firstcrop
