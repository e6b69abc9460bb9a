#include "library/sourced_scalar.hpp"

#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "library/block_table.hpp"

namespace firstcrop {
namespace {

YamlNode part_of(const YamlNode& scalar, std::string_view text) {
  YamlNode out;
  out.line = scalar.line;
  out.column = scalar.column + (scalar.quoted ? 1 : 0);
  out.text = std::string(text);
  return out;
}

SourcedScalar taken_apart(const YamlNode& scalar) {
  SourcedText sourced = split_source(scalar.text);
  std::string_view rest = trimmed_text(sourced.text);
  SourcedScalar out;
  out.source = std::move(sourced.source);
  const std::size_t open = rest.find(" (");
  if (rest.ends_with(')') && open != std::string_view::npos) {
    out.remark = std::string(rest.substr(open + 2, rest.size() - open - 3));
    rest = trimmed_text(rest.substr(0, open));
  }
  out.value = part_of(scalar, rest);
  return out;
}

double in_unit(double canonical, std::string_view unit) {
  if (unit.empty()) return canonical;
  const std::optional<Unit> found = find_unit(unit);
  return found ? found->from_canonical(canonical) : canonical;
}

}  // namespace

void RecordReader::check_source(const YamlNode& node, SourcedScalar& scalar) {
  if (scalar.source.empty()) {
    if (policy_.of_library) {
      error(node, "this value has no source", "write the key of its source behind it: `[crc]`");
    } else {
      scalar.source = policy_.fallback_source;
    }
    return;
  }
  if (!policy_.of_library) return;
  for (const std::string& word : split_words(scalar.source)) {
    const std::string key = word.substr(0, word.find(':'));
    if (policy_.sources->contains(key)) continue;
    std::vector<std::string> keys;
    for (const auto& [known, text] : *policy_.sources) keys.push_back(known);
    const auto near = nearest_name(key, keys);
    error(node, fmt::format("the source `{}` is not explained", key),
          near ? fmt::format("did you mean `{}`?", *near) : "explain it in sources.yaml");
  }
}

std::optional<SourcedScalar> RecordReader::scalar(std::string_view key) {
  const YamlNode* node = fields_.node(key);
  if (node == nullptr) return std::nullopt;
  if (!node->is_scalar() || trimmed_text(node->text).empty()) {
    error(*node, fmt::format("`{}` must be one value", key), "write `value [source]`, or leave the key out");
    return std::nullopt;
  }
  SourcedScalar out = taken_apart(*node);
  if (out.value.text != "unknown" || !out.source.empty()) check_source(*node, out);
  return out;
}

std::optional<SourcedValue> RecordReader::value(std::string_view key, const Dimension& dimension,
                                                std::string_view unit, std::string_view example,
                                                bool positive) {
  const std::optional<SourcedScalar> found = scalar(key);
  if (!found || found->value.text == "unknown") return std::nullopt;
  const auto quantity = fields_.quantity_from(found->value, dimension, example);
  if (!quantity) return std::nullopt;
  if (positive && quantity->low <= 0) {
    error(found->value, fmt::format("`{}` must be above zero", key),
          fmt::format("write it like `{}`", example));
    return std::nullopt;
  }
  return SourcedValue{in_unit(quantity->middle(), unit), found->source, found->remark};
}

std::optional<RecordReader::Numbers> RecordReader::numbers(std::string_view key, std::size_t count,
                                                           std::string_view example) {
  std::optional<SourcedScalar> found = scalar(key);
  if (!found || found->value.text == "unknown") return std::nullopt;
  Numbers out;
  std::vector<std::string> words = split_words(found->value.text);
  for (std::size_t i = 0; i < count; ++i) {
    const auto number = i < words.size() ? read_number(words[i]) : std::nullopt;
    if (!number) {
      error(found->value, fmt::format("`{}` begins with {} numbers", key, count),
            fmt::format("write it like `{}`", example));
      return std::nullopt;
    }
    out.values.push_back(*number);
  }
  out.rest.assign(words.begin() + static_cast<std::ptrdiff_t>(count), words.end());
  out.scalar = std::move(*found);
  return out;
}

std::optional<std::pair<double, double>> RecordReader::kelvin_range(const Numbers& numbers,
                                                                    std::string_view example) {
  const auto& words = numbers.rest;
  if (words.size() == 6 && words[0] == "from" && words[2] == "K" && words[3] == "to" && words[5] == "K") {
    const auto low = read_number(words[1]);
    const auto high = read_number(words[4]);
    if (low && high && *low > 0 && *low < *high) return std::pair{*low, *high};
  }
  error(numbers.scalar.value, "the range of temperatures is not understood",
        fmt::format("write it like `{}`", example));
  return std::nullopt;
}

std::optional<SourcedScalar> RecordReader::safety_scalar(std::string_view key, Knowledge& knowledge) {
  knowledge = Knowledge::Unknown;
  if (policy_.of_library) {
    fields_.required_node(key, "write a value, `none-known` (looked for) or `unknown` (not checked)");
  }
  std::optional<SourcedScalar> found = scalar(key);
  if (!found || found->value.text == "unknown") return found;
  knowledge = found->value.text == "none-known" ? Knowledge::NoneKnown : Knowledge::Value;
  return found;
}

SafetyNumber RecordReader::safety_number(std::string_view key, const Dimension& dimension,
                                         std::string_view unit, std::string_view example) {
  SafetyNumber out;
  const auto found = safety_scalar(key, out.knowledge);
  if (!found) return out;
  out.source = found->source;
  out.basis = found->remark;
  if (out.knowledge != Knowledge::Value) return out;
  const auto quantity = fields_.quantity_from(found->value, dimension, example);
  if (quantity) {
    out.value = in_unit(quantity->low, unit);
  } else {
    out.knowledge = Knowledge::Unknown;
  }
  return out;
}

SafetyText RecordReader::safety_text(std::string_view key, const std::vector<std::string>& words) {
  SafetyText out;
  const auto found = safety_scalar(key, out.knowledge);
  if (!found) return out;
  out.source = found->source;
  out.remark = found->remark;
  if (out.knowledge != Knowledge::Value) return out;
  if (std::find(words.begin(), words.end(), found->value.text) == words.end()) {
    error(found->value, fmt::format("`{}` cannot be `{}`", key, found->value.text),
          fmt::format("one of: {}, none-known, unknown", fmt::join(words, ", ")));
    out.knowledge = Knowledge::Unknown;
    return out;
  }
  out.value = found->value.text;
  return out;
}

SafetyList RecordReader::safety_list(std::string_view key, const std::vector<std::string>& prefixes,
                                     std::string_view example) {
  SafetyList out;
  const auto found = safety_scalar(key, out.knowledge);
  if (!found) return out;
  out.source = found->source;
  out.remark = found->remark;
  if (out.knowledge != Knowledge::Value) return out;
  for (std::string& word : split_words(found->value.text)) {
    const bool known = std::any_of(prefixes.begin(), prefixes.end(), [&word](const std::string& prefix) {
      return word.starts_with(prefix) && word.size() > prefix.size() && word[prefix.size()] >= '0' &&
             word[prefix.size()] <= '9';
    });
    if (known) {
      out.values.push_back(std::move(word));
    } else {
      error(found->value, fmt::format("`{}` does not belong under `{}`", word, key),
            fmt::format("write them like `{}`", example));
    }
  }
  return out;
}

}  // namespace firstcrop
