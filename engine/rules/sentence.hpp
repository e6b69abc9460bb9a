#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rules/program.hpp"

namespace firstcrop {

/// Display names that sentences use.
struct Names {
  std::string solute;
  std::string system;
  std::vector<std::string> components;  ///< of a single: the solvent; of a pair: good, then poor
};

/// Whether a sentence stands where `{probability}` has a meaning: in the `perhaps` of an exclusion.
enum class SentencePlace { Ordinary, Perhaps };

/// A sentence of a rule with its holes: `{fact}`, a `{let}` name, or `{solute}`, `{solvent}`, `{good}`,
/// `{poor}`, `{system}` for the names. `{x|low}` and `{x|high}` show one end of the range of a number, which
/// is what an instruction needs; `{probability}` shows how probable an exclusion is.
class Sentence {
 public:
  struct Part {
    enum class Kind { Words, Solute, System, Solvent, Good, Poor, Fact, Let, Probability };
    enum class End { Both, Low, High };
    Kind kind = Kind::Words;
    End end = End::Both;                     ///< of Fact and Let: which end of an uncertain number
    std::string words;                       ///< of Words
    FactReference fact;                      ///< of Fact
    std::shared_ptr<const Program> program;  ///< of Let
  };

  Sentence() = default;
  /// Reads a sentence; unknown holes, unbalanced braces, an end of what is no number, and a probability where
  /// there is none are faults.
  [[nodiscard]] static std::optional<Sentence> parse(std::string_view text, const Catalogue& catalogue,
                                                     const CheckedLets& lets, std::vector<TextFault>& faults,
                                                     SentencePlace place = SentencePlace::Ordinary);
  /// The sentence about one system. Numbers carry their unit, and their 80 % range where they are uncertain;
  /// what is unknown reads `unknown`. `probability` is that of the exclusion that speaks.
  [[nodiscard]] std::string render(const FactFrame& frame, std::size_t each, const Names& names,
                                   double probability = 1) const;

  [[nodiscard]] const std::vector<Part>& parts() const { return parts_; }
  [[nodiscard]] bool empty() const { return parts_.empty(); }
  /// The sentence as it was written.
  [[nodiscard]] const std::string& written() const { return written_; }
  [[nodiscard]] const std::vector<std::string>& let_names() const { return let_names_; }

 private:
  std::vector<Part> parts_;
  std::string written_;
  std::vector<std::string> let_names_;
};

/// The value of a fact for people: `78 °C`, `6.2-14 mL/g`, `yes`, `H225, H336`, `unknown`.
[[nodiscard]] std::string show_fact(const FactValue& value, const FactInfo& info);

}  // namespace firstcrop
