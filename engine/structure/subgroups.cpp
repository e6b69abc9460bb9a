#include "structure/subgroups.hpp"

#include <GraphMol/GraphMol.h>
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <functional>
#include <optional>
#include <set>

#include "structure/molecule_data.hpp"
#include "structure/pattern_set.hpp"

namespace firstcrop {
namespace {

constexpr std::size_t kMostAtoms = 60;
constexpr int kMostTries = 200000;
constexpr int kAliphaticMainGroup = 1;
constexpr int kRingMainGroup = 42;

/// One place where a subgroup fits.
struct Fit {
  const SubgroupPattern* pattern = nullptr;
  detail::MatchedAtoms atoms;
};

using Counts = std::map<int, int>;

struct Cover {
  std::vector<const SubgroupPattern*> groups;

  [[nodiscard]] Counts by_main_group() const {
    Counts out;
    for (const SubgroupPattern* each : groups) ++out[each->main_group];
    return out;
  }
  [[nodiscard]] Counts by_number() const {
    Counts out;
    for (const SubgroupPattern* each : groups) ++out[each->number];
    return out;
  }
  /// Numbers of the functional groups, ascending: the lower comes first in the convention.
  [[nodiscard]] std::vector<int> functional() const {
    std::vector<int> out;
    for (const SubgroupPattern* each : groups)
      if (each->main_group != kAliphaticMainGroup && each->main_group != kRingMainGroup) out.push_back(each->number);
    std::sort(out.begin(), out.end());
    return out;
  }
};

class CoverSearch {
 public:
  CoverSearch(std::vector<Fit> fits, std::size_t atom_count) : fits_(std::move(fits)), by_atom_(atom_count) {
    for (std::size_t i = 0; i < fits_.size(); ++i)
      for (const int atom : fits_[i].atoms) by_atom_[static_cast<std::size_t>(atom)].push_back(i);
    covered_.resize(atom_count, false);
  }

  /// All covers with the fewest groups, each composition once; nothing where the search grew too large.
  std::optional<std::vector<Cover>> shortest() {
    walk();
    if (tries_ > kMostTries) return std::nullopt;
    return std::move(found_);
  }
  /// Atoms that no subgroup fits.
  [[nodiscard]] std::vector<std::size_t> unfitted() const {
    std::vector<std::size_t> out;
    for (std::size_t i = 0; i < by_atom_.size(); ++i)
      if (by_atom_[i].empty()) out.push_back(i);
    return out;
  }

 private:
  void walk() {
    if (++tries_ > kMostTries || (!found_.empty() && chosen_.groups.size() > found_.front().groups.size())) return;
    const auto open = std::find(covered_.begin(), covered_.end(), false);
    if (open == covered_.end()) {
      keep();
      return;
    }
    for (const std::size_t i : by_atom_[static_cast<std::size_t>(open - covered_.begin())]) {
      const Fit& fit = fits_[i];
      const bool free = std::none_of(fit.atoms.begin(), fit.atoms.end(),
                                     [this](int atom) { return covered_[static_cast<std::size_t>(atom)]; });
      if (!free) continue;
      for (const int atom : fit.atoms) covered_[static_cast<std::size_t>(atom)] = true;
      chosen_.groups.push_back(fit.pattern);
      walk();
      chosen_.groups.pop_back();
      for (const int atom : fit.atoms) covered_[static_cast<std::size_t>(atom)] = false;
    }
  }

  void keep() {
    if (!found_.empty() && chosen_.groups.size() < found_.front().groups.size()) {
      found_.clear();
      seen_.clear();
    }
    if (!found_.empty() && chosen_.groups.size() > found_.front().groups.size()) return;
    if (seen_.insert(chosen_.by_number()).second) found_.push_back(chosen_);
  }

  std::vector<Fit> fits_;
  std::vector<std::vector<std::size_t>> by_atom_;
  std::vector<bool> covered_;
  Cover chosen_;
  std::vector<Cover> found_;
  std::set<Counts> seen_;
  int tries_ = 0;
};

const detail::PatternSet& patterns() {
  static const detail::PatternSet all = [] {
    std::vector<std::string> smarts;
    for (const SubgroupPattern& each : subgroup_patterns()) smarts.emplace_back(each.smarts);
    return detail::PatternSet(smarts);
  }();
  return all;
}

SubgroupAssignment refused(std::string reason) {
  return {{}, std::move(reason)};
}

}  // namespace

const std::vector<SubgroupPattern>& subgroup_patterns() {
  // Carbons next to a functional group belong to it in the published scheme; [CX4] carbons of rings are apart.
  static const std::vector<SubgroupPattern> all{
      {16, 7, "H2O", "[OX2H2]", true},
      {15, 6, "CH3OH", "[CX4H3][OX2H]", true},
      {62, 31, "DOH", "[OX2H][CX4H2][CX4H2][OX2H]", true},
      {43, 44, "HCOOH", "[CX3H](=O)[OX2H]", true},
      {40, 19, "CH3CN", "[CX4H3]C#N", true},
      {47, 22, "CH2CL2", "Cl[CX4H2]Cl", true},
      {50, 45, "CHCL3", "Cl[CX4H](Cl)Cl", true},
      {52, 24, "CCL4", "ClC(Cl)(Cl)Cl", true},
      {54, 26, "CH3NO2", "[CX4H3][N+](=O)[O-]", true},
      {58, 28, "CS2", "S=C=S", true},
      {28, 14, "CH3NH2", "[CX4H3][NX3H2]", true},
      {59, 29, "CH3SH", "[CX4H3][SX2H]", true},
      {67, 35, "DMSO", "[CX4H3][SX3](=O)[CX4H3]", true},
      {72, 39, "DMF", "[CX4H3]N([CX4H3])[CX3H]=O", true},
      {1, 1, "CH3", "[CX4H3]"},
      {2, 1, "CH2", "[CX4H2;!R]"},
      {3, 1, "CH", "[CX4H1;!R]"},
      {4, 1, "C", "[CX4H0;!R]"},
      {78, 42, "CY-CH2", "[CX4H2;R]"},
      {79, 42, "CY-CH", "[CX4H1;R]"},
      {80, 42, "CY-C", "[CX4H0;R]"},
      {5, 2, "CH2=CH", "[CX3H2]=[CX3H1]"},
      {6, 2, "CH=CH", "[CX3H1]=[CX3H1]"},
      {7, 2, "CH2=C", "[CX3H2]=[CX3H0]"},
      {8, 2, "CH=C", "[CX3H1]=[CX3H0]"},
      {70, 2, "C=C", "[CX3H0]=[CX3H0]"},
      {65, 34, "CH=-C", "[CX2H1]#[CX2H0]"},
      {66, 34, "C=-C", "[CX2H0]#[CX2H0]"},
      {9, 3, "ACH", "[cH1]"},
      {10, 3, "AC", "[cH0]"},
      {11, 4, "ACCH3", "[cH0][CX4H3]"},
      {12, 4, "ACCH2", "[cH0][CX4H2;!R]"},
      {13, 4, "ACCH", "[cH0][CX4H1;!R]"},
      {17, 8, "ACOH", "[cH0][OX2H1]"},
      {36, 17, "ACNH2", "[cH0][NX3H2]"},
      {53, 25, "ACCL", "[cH0]Cl"},
      {71, 38, "ACF", "[cH0]F"},
      {57, 27, "ACNO2", "[cH0][N+](=O)[O-]"},
      {37, 18, "AC2H2N", "[cH1][nX2;r6][cH1]"},
      {38, 18, "AC2HN", "[cH1][nX2;r6][cH0]"},
      {39, 18, "AC2N", "[cH0][nX2;r6][cH0]"},
      {104, 52, "AC2H2S", "[cH1]s[cH1]"},
      {105, 52, "AC2HS", "[cH1]s[cH0]"},
      {106, 52, "AC2S", "[cH0]s[cH0]"},
      {14, 5, "OH(P)", "[$([OX2H1][CX4H2])]"},
      {81, 5, "OH(S)", "[$([OX2H1][CX4H1])]"},
      {82, 5, "OH(T)", "[$([OX2H1][CX4H0])]"},
      {18, 9, "CH3CO", "[CX4H3][CX3;$(C([#6])[#6])]=O"},
      {19, 9, "CH2CO", "[CX4H2][CX3;$(C([#6])[#6])]=O"},
      {20, 10, "CHO", "[CX3H1;$(C[#6])]=O"},
      {21, 11, "CH3COO", "[CX4H3][CX3;!R](=O)[OX2H0;$(O([#6])[#6])]"},
      {22, 11, "CH2COO", "[CX4H2][CX3;!R](=O)[OX2H0;$(O([#6])[#6])]"},
      {77, 41, "COO", "[CX3;!R;$(C[#6])](=O)[OX2H0;$(O([#6])[#6])]"},
      {23, 12, "HCOO", "[CX3H1](=O)[OX2H0;$(O([#6])[#6])]"},
      {42, 20, "COOH", "[CX3;!H1](=O)[OX2H1]"},
      {24, 13, "CH3O", "[CX4H3][OX2H0;!R;$(O([#6])[#6])]"},
      {25, 13, "CH2O", "[CX4H2;!R][OX2H0;!R;$(O([#6])[#6])]"},
      {26, 13, "CHO", "[CX4H1;!R][OX2H0;!R;$(O([#6])[#6])]"},
      {27, 43, "THF", "[CX4H2;R][OX2;R][CX4H2;R]"},
      {83, 43, "CY-CH2O", "[CX4H2;R][OX2;R;$(O([#6])[#6])]"},
      {29, 14, "CH2NH2", "[CX4H2][NX3H2]"},
      {30, 14, "CHNH2", "[CX4H1][NX3H2]"},
      {85, 14, "CNH2", "[CX4H0][NX3H2]"},
      {31, 15, "CH3NH", "[CX4H3][NX3H1;$(N([#6])[#6])]"},
      {32, 15, "CH2NH", "[CX4H2][NX3H1;$(N([#6])[#6])]"},
      {33, 15, "CHNH", "[CX4H1][NX3H1;$(N([#6])[#6])]"},
      {34, 16, "CH3N", "[CX4H3][NX3H0;$(N([#6])([#6])[#6])]"},
      {35, 16, "CH2N", "[CX4H2][NX3H0;$(N([#6])([#6])[#6])]"},
      {41, 19, "CH2CN", "[CX4H2]C#N"},
      {44, 21, "CH2CL", "[CX4H2]Cl"},
      {45, 21, "CHCL", "[CX4H1]Cl"},
      {46, 21, "CCL", "[CX4H0]Cl"},
      {48, 22, "CHCL2", "Cl[CX4H1]Cl"},
      {49, 22, "CCL2", "Cl[CX4H0]Cl"},
      {51, 23, "CCL3", "Cl[CX4H0](Cl)Cl"},
      {55, 26, "CH2NO2", "[CX4H2][N+](=O)[O-]"},
      {56, 26, "CHNO2", "[CX4H1][N+](=O)[O-]"},
      {60, 29, "CH2SH", "[CX4H2][SX2H1]"},
      {63, 32, "I", "I"},
      {64, 33, "BR", "Br"},
      {69, 37, "CL-(C=C)", "[$(Cl[CX3]=[CX3])]"},
      {86, 46, "NMP", "[CX4H3][NX3;R][CX3;R]=O"},
      {91, 47, "CONH2", "[CX3;!H1](=O)[NX3H2]"},
      {92, 47, "CONHCH3", "[CX3;!R](=O)[NX3H1][CX4H3]"},
      {100, 47, "CONHCH2", "[CX3;!R](=O)[NX3H1][CX4H2]"},
      {101, 48, "AM(CH3)2", "[CX3;!R;!H1](=O)[NX3]([CX4H3])[CX4H3]"},
      {102, 48, "AMCH3CH2", "[CX3;!R;!H1](=O)[NX3]([CX4H3])[CX4H2]"},
      {103, 48, "AM(CH2)2", "[CX3;!R;!H1](=O)[NX3]([CX4H2])[CX4H2]"},
      {73, 39, "HCON(CH2)2", "[CX3H1](=O)[NX3]([CX4H2])[CX4H2]"},
      {93, 49, "HCONHCH3", "[CX3H1](=O)[NX3H1][CX4H3]"},
      {94, 49, "HCONHCH2", "[CX3H1](=O)[NX3H1][CX4H2]"},
      {110, 56, "(CH2)2SU", "[CX4H2][SX4](=O)(=O)[CX4H2]"},
      {111, 56, "CH2SUCH", "[CX4H2][SX4](=O)(=O)[CX4H1]"},
      {112, 55, "(CH3)2CB", "[CX4H3]O[CX3;!R](=O)O[CX4H3]", true},
      {113, 55, "(CH2)2CB", "[CX4H2]O[CX3;!R](=O)O[CX4H2]"},
      {114, 55, "CH2CH3CB", "[CX4H2]O[CX3;!R](=O)O[CX4H3]"},
      {122, 61, "CH3S", "[CX4H3][SX2H0;$(S([#6])[#6])]"},
      {123, 61, "CH2S", "[CX4H2][SX2H0;$(S([#6])[#6])]"},
      {124, 61, "CHS", "[CX4H1][SX2H0;$(S([#6])[#6])]"},
  };
  return all;
}

SubgroupAssignment assign_subgroups(const Molecule& molecule) {
  const RDKit::ROMol& atoms = *molecule.data().molecule;
  const std::size_t atom_count = atoms.getNumAtoms();
  if (!molecule.kind().ordinary() && !molecule.kind().inorganic) return refused("no ordinary single molecule");
  if (atom_count > kMostAtoms) return refused("too large a molecule");
  const std::vector<SubgroupPattern>& all = subgroup_patterns();
  detail::PatternSearch search(patterns(), molecule);
  std::vector<Fit> fits;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (!search.may_match(i)) continue;
    for (detail::MatchedAtoms& match : search.matches(i)) {
      if (all[i].whole && match.size() != atom_count) continue;
      fits.push_back({&all[i], std::move(match)});
    }
  }
  CoverSearch covers(std::move(fits), atom_count);
  if (const auto left = covers.unfitted(); !left.empty()) {
    std::vector<std::string> symbols;
    for (const std::size_t atom : left) {
      const std::string symbol = atoms.getAtomWithIdx(static_cast<unsigned>(atom))->getSymbol();
      if (std::find(symbols.begin(), symbols.end(), symbol) == symbols.end()) symbols.push_back(symbol);
    }
    return refused(fmt::format("no group fits an atom of {} in it", fmt::join(symbols, ", ")));
  }
  auto found = covers.shortest();
  if (!found) return refused("too many ways to take it apart");
  if (found->empty()) return refused("the groups do not fit together");
  const Counts main_groups = found->front().by_main_group();
  for (const Cover& cover : *found)
    if (cover.by_main_group() != main_groups) return refused("more than one assignment is possible");
  const Cover& best = *std::min_element(found->begin(), found->end(), [](const Cover& a, const Cover& b) {
    return a.functional() < b.functional();
  });
  SubgroupAssignment out;
  for (const auto& [number, count] : best.by_number()) out.counts[number] = count;
  return out;
}

}  // namespace firstcrop
