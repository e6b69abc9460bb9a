#include <fmt/format.h>

#include "rules/rule_parts.hpp"

namespace firstcrop::detail {
namespace {

class VerdictReader {
 public:
  VerdictReader(const YamlDocument& document, const Catalogue& catalogue, Findings& findings)
      : context_(document, catalogue, findings) {}

  std::optional<VerdictLimits> read(const YamlNode& node) {
    VerdictLimits out;
    out.place = context_.document().place_of(node);
    Fields fields(context_.document(), node, "`verdict`", context_.findings());
    if (!fields.is_map()) return std::nullopt;
    const std::size_t before = context_.findings().size();
    group(fields, "chance", [&](Fields& inner) { read_chance(inner, out); });
    group(fields, "sound", [&](Fields& inner) {
      number(inner, "score", out.sound_score, 1);
      number(inner, "judged", out.sound_judged, 1);
      number(inner, "weak_grade", out.sound_weak_grade, 1);
      number(inner, "heavy_weight", out.sound_heavy_weight, kLargestWeight);
      if (inner.node("chance") != nullptr) number(inner, "chance", out.sound_chance, 1);
    });
    group(fields, "doubtful", [&](Fields& inner) { number(inner, "exclusion", out.doubtful_exclusion, 1); });
    group(fields, "unfit", [&](Fields& inner) {
      number(inner, "exclusion", out.unfit_exclusion, 1);
      number(inner, "chance", out.unfit_chance, 1);
    });
    group(fields, "caution",
          [&](Fields& inner) { number(inner, "probability", out.caution_probability, 1); });
    group(fields, "words", [&](Fields& inner) {
      number(inner, "high", out.high_grade, 1);
      number(inner, "low", out.low_grade, 1);
    });
    fields.finish();
    if (context_.findings().size() > before) return std::nullopt;
    check_order(node, out);
    if (context_.has_failed()) return std::nullopt;
    return out;
  }

 private:
  template <typename Read>
  void group(Fields& fields, const char* key, Read read) {
    const YamlNode* node = fields.required_node(key);
    if (node == nullptr) return;
    Fields inner(context_.document(), *node, fmt::format("`{}`", key), context_.findings());
    if (!inner.is_map()) return;
    read(inner);
    inner.finish();
  }
  void number(Fields& inner, const char* key, double& target, double most) {
    const YamlNode* node = inner.required_node(key);
    if (node == nullptr) return;
    const auto value = context_.literal(*node, dimension::kNumber);
    if (!value) return;
    if (*value < 0 || *value > most) {
      context_.error(*node, fmt::format("`{}` lies between 0 and {}", key, most));
      return;
    }
    target = *value;
  }
  void read_chance(Fields& inner, VerdictLimits& out) {
    const YamlNode* of = inner.required_node("of", "write `of: system.works`");
    if (of == nullptr) return;
    const auto fact = of->is_scalar() ? context_.catalogue().find(of->text) : std::nullopt;
    if (!fact) {
      const auto near = context_.catalogue().nearest(of->text);
      context_.error(*of, fmt::format("there is no fact `{}`", of->text.substr(0, 60)),
                     near ? fmt::format("did you mean `{}`?", *near) : std::string());
      return;
    }
    const bool is_flag = context_.catalogue().info(fact->fact).type == FactType::Flag;
    if (!is_flag || fact->component != Component::None) {
      context_.error(*of, "the chance is the probability of a flag of the system",
                     "write `of: system.works`");
      return;
    }
    out.chance_of = *fact;
  }
  void check_order(const YamlNode& node, const VerdictLimits& limits) {
    if (limits.doubtful_exclusion > limits.unfit_exclusion) {
      context_.error(node, "`exclusion` of `doubtful` lies above that of `unfit`",
                     "the doubtful limit is the lower one");
    }
    if (limits.low_grade > limits.high_grade) {
      context_.error(node, "`low` of `words` lies above `high`", "write the lower limit as `low`");
    }
    if (limits.sound_chance > 0 && limits.sound_chance < limits.unfit_chance) {
      context_.error(node, "`chance` of `sound` lies below that of `unfit`",
                     "a sound system needs the larger chance");
    }
  }

  RuleContext context_;
};

}  // namespace

std::optional<VerdictLimits> read_verdict(const YamlDocument& document, const YamlNode& node,
                                          const Catalogue& catalogue, Findings& findings) {
  return VerdictReader(document, catalogue, findings).read(node);
}

}  // namespace firstcrop::detail
