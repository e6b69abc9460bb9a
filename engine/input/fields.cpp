#include "input/fields.hpp"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace firstcrop {
namespace {

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\n") - first + 1);
}

std::string lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(), [](char letter) {
    return static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  });
  return out;
}

std::string kind_of(const YamlNode& node) {
  if (node.is_map()) return "a map";
  if (node.is_list()) return "a list";
  return node.text.empty() ? "nothing" : "a text";
}

std::string article(const std::string& word) {
  return std::string("aeiou").find(word.front()) == std::string::npos ? "a" : "an";
}

// What to write instead of a number whose unit is missing or wrong; a plain temperature between 100 and 500
// that was typed with an F is converted.
std::string unit_help(std::string_view written, const Dimension& dimension, std::string_view example) {
  const std::string number(trimmed(written.substr(0, written.find_first_not_of("0123456789.+-eE to"))));
  // The unit of the example is the one that fits the place: mg in a test tube, g in a flask.
  const auto own = find_unit(example.substr(example.find_last_of(' ') + 1));
  const auto unit = own && own->dimension == dimension ? own : display_unit(dimension);
  if (!number.empty() && unit) return fmt::format("write `{} {}`", number, unit->symbol);
  return fmt::format("write it like `{}`", example);
}

// Scales that people write by habit: how they are called and how they turn into °C.
struct OtherScale {
  const char* name;
  double zero;
  double per_degree;
};

std::optional<OtherScale> other_scale(std::string_view unit_text) {
  const std::string unit = lower(trimmed(unit_text));
  if (unit == "f" || unit == "\u00B0f" || unit == "deg f" || unit == "fahrenheit" ||
      unit == "degrees fahrenheit") {
    return OtherScale{"Fahrenheit", 32, 1.8};
  }
  if (unit == "k" || unit == "\u00B0k" || unit == "kelvin" || unit == "kelvins" || unit == "degrees kelvin") {
    return OtherScale{"kelvin", 273.15, 1};
  }
  return std::nullopt;
}

std::string help_in_celsius(std::string_view written, std::string_view unit_text, const OtherScale& scale) {
  const std::string_view number = trimmed(written.substr(0, written.rfind(unit_text)));
  const ParsedQuantity plain = parse_quantity(number, dimension::kNumber);
  if (plain.fault != QuantityFault::None) return "write it in °C";
  const auto celsius = [&scale](double degrees) {
    return fmt::format("{:.0f}", (degrees - scale.zero) / scale.per_degree + 0.0);
  };
  if (!plain.quantity.is_range()) return fmt::format("write `{} °C`", celsius(plain.quantity.low));
  return fmt::format("write `{} to {} °C` for {}", celsius(plain.quantity.low), celsius(plain.quantity.high),
                     trimmed(written));
}

// `83,5 °C` with a point; nothing where no comma stands between digits.
std::optional<std::string> with_points(std::string_view written) {
  const auto is_digit = [](char letter) { return letter >= '0' && letter <= '9'; };
  std::string out(written);
  bool found = false;
  for (std::size_t i = 1; i + 1 < out.size(); ++i) {
    if (out[i] != ',' || !is_digit(out[i - 1]) || !is_digit(out[i + 1])) continue;
    out[i] = '.';
    found = true;
  }
  if (!found) return std::nullopt;
  return out;
}

}  // namespace

SourcedText split_source(std::string_view scalar) {
  const std::string_view text = trimmed(scalar);
  if (!text.ends_with(']')) return {std::string(text), {}};
  const std::size_t open = text.rfind('[');
  if (open == std::string_view::npos) return {std::string(text), {}};
  return {std::string(trimmed(text.substr(0, open))),
          std::string(text.substr(open + 1, text.size() - open - 2))};
}

Fields::Fields(const YamlDocument& document, const YamlNode& map, std::string what, Findings& findings)
    : document_(document), node_(map), what_(std::move(what)), findings_(findings), is_map_(map.is_map()) {
  if (!is_map_) {
    findings_.error(document_.place_of(map),
                    fmt::format("{} must be a map of `key: value` lines, not {}", what_, kind_of(map)),
                    "write one `key: value` a line");
  }
}

const YamlNode* Fields::node(std::string_view key) {
  known_.emplace(key);
  return node_.is_map() ? node_.find(key) : nullptr;
}

const YamlNode* Fields::required_node(std::string_view key, std::string_view help) {
  const YamlNode* found = node(key);
  if (found == nullptr && is_map_) {
    findings_.error(document_.place_of(node_), fmt::format("{} lacks the key `{}`", what_, key),
                    std::string(help));
  }
  return found;
}

void Fields::error(const YamlNode& at, std::string message, std::string help) const {
  // Half a value is wrong anyhow, and that a comma cut it was told.
  if (at.cut_by_comma) return;
  findings_.error(document_.place_of(at), std::move(message), std::move(help));
}

std::optional<std::string> Fields::text(std::string_view key) {
  const YamlNode* found = node(key);
  if (found == nullptr) return std::nullopt;
  if (!found->is_scalar()) {
    error(*found, fmt::format("`{}` must be a text, not {}", key, kind_of(*found)),
          found->is_list() ? "quote a text that begins with `[`" : "quote a text that begins with `{`");
    return std::nullopt;
  }
  if (trimmed(found->text).empty()) {
    error(*found, fmt::format("`{}` is empty", key), "write a value, or leave the key out");
    return std::nullopt;
  }
  return found->text;
}

std::optional<std::string> Fields::required_text(std::string_view key, std::string_view help) {
  if (required_node(key, help) == nullptr) return std::nullopt;
  return text(key);
}

std::optional<bool> Fields::flag(std::string_view key) {
  const YamlNode* found = node(key);
  if (found == nullptr) return std::nullopt;
  if (found->is_scalar() && !found->quoted) {
    if (found->text == "true") return true;
    if (found->text == "false") return false;
    const std::string word = lower(found->text);
    if (word == "yes" || word == "y" || word == "on") {
      error(*found, fmt::format("`{}` is `true` or `false`, not `{}`", key, found->text), "write `true`");
      return std::nullopt;
    }
    if (word == "no" || word == "n" || word == "off") {
      error(*found, fmt::format("`{}` is `true` or `false`, not `{}`", key, found->text), "write `false`");
      return std::nullopt;
    }
  }
  error(*found, fmt::format("`{}` is `true` or `false`", key), "write `true` or `false`, without quotes");
  return std::nullopt;
}

std::optional<WrittenQuantity> Fields::quantity(std::string_view key, const Dimension& dimension,
                                                std::string_view example) {
  const YamlNode* found = node(key);
  if (found == nullptr) return std::nullopt;
  return quantity_from(*found, dimension, example);
}

std::optional<WrittenQuantity> Fields::quantity_from(const YamlNode& scalar, const Dimension& dimension,
                                                     std::string_view example) {
  const std::string wanted = name_of(dimension);
  if (!scalar.is_scalar()) {
    error(scalar, fmt::format("{} {} is expected, not {}", article(wanted), wanted, kind_of(scalar)),
          fmt::format("write it like `{}`", example));
    return std::nullopt;
  }
  const ParsedQuantity parsed = parse_quantity(scalar.text, dimension);
  if (parsed.fault != QuantityFault::None) {
    if (const auto pointed = with_points(scalar.text)) {
      error(scalar, "a number has a decimal point, not a comma", fmt::format("write `{}`", *pointed));
      return std::nullopt;
    }
    const auto scale = dimension == dimension::kTemperature ? other_scale(parsed.unit_text) : std::nullopt;
    if (scale) {
      error(scalar, fmt::format("temperatures are in °C, not in {}", scale->name),
            help_in_celsius(scalar.text, parsed.unit_text, *scale));
      return std::nullopt;
    }
  }
  switch (parsed.fault) {
    case QuantityFault::None:
      return parsed.quantity;
    case QuantityFault::MissingUnit:
      error(scalar, fmt::format("{} {} needs its unit", article(wanted), wanted),
            unit_help(scalar.text, dimension, example));
      break;
    case QuantityFault::UnknownUnit: {
      std::vector<std::string> symbols;
      for (const Unit& unit : all_units()) {
        if (unit.dimension == dimension) symbols.emplace_back(unit.symbol);
      }
      const auto near = nearest_name(parsed.unit_text, symbols);
      error(scalar, fmt::format("`{}` is not a unit of {} {}", parsed.unit_text, article(wanted), wanted),
            near ? fmt::format("did you mean `{}`?", *near) : fmt::format("write it like `{}`", example));
      break;
    }
    case QuantityFault::WrongDimension:
      error(scalar, fmt::format("`{}` is not a unit of {} {}", parsed.unit_text, article(wanted), wanted),
            fmt::format("write it like `{}`", example));
      break;
    case QuantityFault::EmptyRange:
      error(scalar, "the range runs backwards", "write the smaller number first");
      break;
    case QuantityFault::NotFinite:
      error(scalar, "the number is too large", fmt::format("write it like `{}`", example));
      break;
    case QuantityFault::NotANumber:
      error(scalar,
            fmt::format("{} {} is expected, not `{}`", article(wanted), wanted, scalar.text.substr(0, 60)),
            fmt::format("write it like `{}`", example));
      break;
  }
  return std::nullopt;
}

std::optional<std::string> Fields::choice(std::string_view key, const std::vector<std::string>& words) {
  const YamlNode* found = node(key);
  if (found == nullptr) return std::nullopt;
  if (found->is_scalar() && std::find(words.begin(), words.end(), found->text) != words.end())
    return found->text;
  const auto near = found->is_scalar() ? nearest_name(found->text, words) : std::nullopt;
  error(*found,
        found->is_scalar() ? fmt::format("`{}` cannot be `{}`", key, found->text.substr(0, 60))
                           : fmt::format("`{}` must be one word, not {}", key, kind_of(*found)),
        near ? fmt::format("did you mean `{}`?", *near) : fmt::format("one of: {}", fmt::join(words, ", ")));
  return std::nullopt;
}

std::vector<const YamlNode*> Fields::scalar_list(std::string_view key, bool accept_single) {
  std::vector<const YamlNode*> out;
  const YamlNode* found = node(key);
  if (found == nullptr) return out;
  if (found->is_scalar() && accept_single && !found->text.empty()) return {found};
  if (!found->is_list()) {
    error(*found, fmt::format("`{}` must be a list, not {}", key, kind_of(*found)), "write `[one, two]`");
    return out;
  }
  for (const YamlNode& item : found->items) {
    if (!item.is_scalar() || trimmed(item.text).empty()) {
      error(item, fmt::format("`{}` is a list of words; {} stands here", key, kind_of(item)),
            "write a word here, or delete the entry");
    } else {
      out.push_back(&item);
    }
  }
  return out;
}

std::vector<const YamlNode*> Fields::map_list(std::string_view key) {
  std::vector<const YamlNode*> out;
  const YamlNode* found = node(key);
  if (found == nullptr) return out;
  if (!found->is_list()) {
    error(*found, fmt::format("`{}` must be a list of maps, not {}", key, kind_of(*found)),
          fmt::format("begin each entry of `{}` with `- `", key));
    return out;
  }
  for (const YamlNode& item : found->items) {
    if (!item.is_map()) {
      error(item, fmt::format("each entry of `{}` must be a map; {} stands here", key, kind_of(item)),
            "write `- {key: value, ...}`");
    } else {
      out.push_back(&item);
    }
  }
  return out;
}

void Fields::finish() {
  if (!is_map_) return;
  const std::vector<std::string> names(known_.begin(), known_.end());
  for (const auto& [key, value] : node_.entries) {
    if (known_.contains(key.text)) continue;
    const auto near = nearest_name(key.text, names);
    error(key, fmt::format("{} has no key `{}`", what_, key.text.substr(0, 60)),
          near ? fmt::format("did you mean `{}`?", *near)
               : fmt::format("known keys: {}", fmt::join(names, ", ")));
  }
}

bool check_format(Fields& fields, std::string_view expected) {
  const YamlNode* found =
      fields.required_node("format", fmt::format("begin the file with `format: {}`", expected));
  if (found == nullptr) return false;
  if (found->is_scalar() && found->text == expected) return true;
  fields.error(*found, "this is not the format expected here", fmt::format("write `format: {}`", expected));
  return false;
}

}  // namespace firstcrop
