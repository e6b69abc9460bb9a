#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/fields.hpp"
#include "library/solvent.hpp"

namespace firstcrop {

/// Numbers of the subgroups of modified UNIFAC by their names; some names are borne twice.
using SubgroupNames = std::multimap<std::string, int, std::less<>>;

using SourceTexts = std::map<std::string, std::string, std::less<>>;

/// What a record must say beside its values.
struct RecordPolicy {
  bool of_library = true;                ///< every value sourced with known keys, every safety key present
  const SourceTexts* sources = nullptr;  ///< known keys; needed where `of_library`
  std::string fallback_source;           ///< stands where a person named no source
  std::vector<std::string> classes;      ///< that a solvent may be of; none: any
  SubgroupNames subgroups;               ///< that a person may write as `groups`
};

/// A scalar taken apart: `value (remark) [keys]`.
struct SourcedScalar {
  YamlNode value;  ///< the value alone, at its place
  std::string remark;
  std::string source;
};

/// Reads the sourced values of one record. Every fault is a finding at its place.
class RecordReader {
 public:
  RecordReader(Fields& fields, const RecordPolicy& policy) : fields_(fields), policy_(policy) {}

  /// Takes the scalar of a key apart; nothing if the key is absent or no scalar. Checks the source unless the
  /// value is `unknown`.
  std::optional<SourcedScalar> scalar(std::string_view key);
  /// A number of a dimension in the unit named (empty: canonical). Must be positive where `positive`.
  std::optional<SourcedValue> value(std::string_view key, const Dimension& dimension, std::string_view unit,
                                    std::string_view example, bool positive = false);
  /// `count` plain numbers, then what stands behind them.
  struct Numbers {
    std::vector<double> values;
    std::vector<std::string> rest;
    SourcedScalar scalar;
  };
  std::optional<Numbers> numbers(std::string_view key, std::size_t count, std::string_view example);
  /// `from LOW K to HIGH K` behind the numbers.
  std::optional<std::pair<double, double>> kelvin_range(const Numbers& numbers, std::string_view example);

  /// The scalar of a safety key and what is known; a finding where a library record lacks the key.
  std::optional<SourcedScalar> safety_scalar(std::string_view key, Knowledge& knowledge);
  SafetyNumber safety_number(std::string_view key, const Dimension& dimension, std::string_view unit,
                             std::string_view example);
  SafetyText safety_text(std::string_view key, const std::vector<std::string>& words);
  /// Words that begin with one of the prefixes.
  SafetyList safety_list(std::string_view key, const std::vector<std::string>& prefixes,
                         std::string_view example);

  void error(const YamlNode& at, std::string message, std::string help = {}) const {
    fields_.error(at, std::move(message), std::move(help));
  }
  [[nodiscard]] Fields& fields() { return fields_; }
  [[nodiscard]] const RecordPolicy& policy() const { return policy_; }

 private:
  void check_source(const YamlNode& node, SourcedScalar& scalar);

  Fields& fields_;
  const RecordPolicy& policy_;
};

}  // namespace firstcrop
