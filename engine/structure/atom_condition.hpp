#pragma once

#include <optional>
#include <string_view>
#include <vector>

namespace firstcrop::detail {

/// What a quick look at an atom tells.
struct AtomFacts {
  int atomic_number = 0;
  bool aromatic = false;
  int degree = 0;       ///< bonds drawn
  int connections = 0;  ///< bonds drawn and hydrogens
  int hydrogens = 0;
  int charge = 0;
  friend bool operator==(const AtomFacts&, const AtomFacts&) = default;
};

/// The part of a SMARTS atom that a quick look can judge: element, aromaticity, X, D, H and charge.
/// Everything else (surroundings in `$()`, rings, isotopes, chirality) is taken as met, so that `may_match`
/// never says no wrongly.
class AtomCondition {
 public:
  /// Reads one SMARTS atom: a bare symbol or the text inside square brackets; nothing if it is malformed.
  [[nodiscard]] static std::optional<AtomCondition> parse(std::string_view smarts_atom);
  [[nodiscard]] bool may_match(const AtomFacts& atom) const;

 private:
  enum class Property { Unknown, AtomicNumber, Aliphatic, Aromatic, Degree, Connections, Hydrogens, Charge };
  struct Literal {
    Property property = Property::Unknown;
    int value = 0;
    bool negated = false;
  };
  using Conjunction = std::vector<Literal>;
  using Alternatives = std::vector<Conjunction>;

  [[nodiscard]] static bool may_hold(const Literal& literal, const AtomFacts& atom);
  [[nodiscard]] static std::optional<Conjunction> parse_conjunction(std::string_view text);

  std::vector<Alternatives> clauses_;  ///< parted by `;`, each with alternatives parted by `,`
};

}  // namespace firstcrop::detail
