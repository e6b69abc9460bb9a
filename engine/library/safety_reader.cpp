#include <array>
#include <cctype>

#include <fmt/format.h>

#include "library/block_table.hpp"
#include "library/solvent_reader.hpp"

namespace firstcrop {
namespace {

constexpr std::string_view kFlammableExample = "1.7 % to 39.2 % [iec-60079]";
constexpr std::array<std::pair<double, std::string_view>, 5> kTemperatureClasses{
    {{450, "T1"}, {300, "T2"}, {200, "T3"}, {135, "T4"}, {100, "T5"}}};
constexpr double kCelsiusZeroK = 273.15;
constexpr std::array<std::pair<std::string_view, std::string_view>, 3> kTopics{
    {{"static", "static charge"}, {"water_contact", "water"}, {"special", "special"}}};

void read_flammable_limits(RecordReader& reader, Solvent& solvent) {
  SafetyNumber& low = solvent.lower_flammable_limit;
  SafetyNumber& high = solvent.upper_flammable_limit;
  const auto scalar = reader.safety_scalar("flammable_limits", low.knowledge);
  high.knowledge = low.knowledge;
  if (!scalar) return;
  low.source = high.source = scalar->source;
  low.basis = high.basis = scalar->remark;
  if (low.knowledge != Knowledge::Value) return;
  const std::vector<std::string> words = split_words(scalar->value.text);
  const bool shape = words.size() >= 4 && words[1] == "%" && words[2] == "to";
  const bool upper_unknown = shape && words.size() == 4 && words[3] == "unknown";
  const bool upper_known = shape && words.size() == 5 && words[4] == "%";
  const double from = shape ? read_number(words[0]).value_or(0) : 0;
  const double to = upper_known ? read_number(words[3]).value_or(0) : 0;
  if (from <= 0 || !(upper_unknown || (from < to && to <= 100))) {
    reader.error(scalar->value, "the flammable limits are not understood",
                 fmt::format("write them like `{}`, or `1.5 % to unknown`", kFlammableExample));
    low.knowledge = high.knowledge = Knowledge::Unknown;
    return;
  }
  low.value = from / 100;
  high.value = to / 100;
  if (upper_unknown) high.knowledge = Knowledge::Unknown;
}

void read_q3c(RecordReader& reader, Solvent& solvent) {
  Knowledge knowledge = Knowledge::Unknown;
  const auto scalar = reader.safety_scalar("q3c", knowledge);
  if (!scalar) return;
  solvent.q3c_class = {knowledge, "", scalar->source, scalar->remark};
  solvent.q3c_limit_ppm = {Knowledge::NoneKnown, 0, scalar->source, scalar->remark};
  solvent.q3c_daily_mg = solvent.q3c_limit_ppm;
  if (knowledge == Knowledge::Unknown) {
    solvent.q3c_limit_ppm.knowledge = solvent.q3c_daily_mg.knowledge = Knowledge::Unknown;
    return;
  }
  if (scalar->value.text == "not-listed") {
    solvent.q3c_class.value = "not-listed";
    return;
  }
  const std::vector<std::string> words = split_words(scalar->value.text);
  const bool has_daily = words.size() == 8 && words[5] == "daily" && words[7] == "mg";
  const bool shape = words.size() >= 5 && words[0] == "class" && words[2] == "limit" && words[4] == "ppm" &&
                     (has_daily || words.size() == 5);
  const auto limit = shape ? read_number(words[3]) : std::nullopt;
  const auto daily = has_daily ? read_number(words[6]) : std::nullopt;
  if (!limit || (has_daily && !daily) || (words[1] != "1" && words[1] != "2" && words[1] != "3")) {
    reader.error(scalar->value, "the ICH Q3C entry is not understood",
                 "write it like `class 2 limit 600 ppm daily 6 mg [ich-q3c]`, or `not-listed`");
    solvent.q3c_class.knowledge = Knowledge::Unknown;
    return;
  }
  solvent.q3c_class.value = words[1];
  solvent.q3c_limit_ppm.knowledge = Knowledge::Value;
  solvent.q3c_limit_ppm.value = *limit;
  if (daily) {
    solvent.q3c_daily_mg.knowledge = Knowledge::Value;
    solvent.q3c_daily_mg.value = *daily;
  }
}

// A class holds what lights only above its limit in °C (IEC 60079-20-1).
SafetyText temperature_class_of(const SafetyNumber& autoignition_k) {
  SafetyText out{autoignition_k.knowledge, "", "computed", autoignition_k.basis};
  if (autoignition_k.knowledge != Knowledge::Value) {
    out.source = autoignition_k.source;
    return out;
  }
  out.value = "T6";
  for (const auto& [limit_c, name] : kTemperatureClasses) {
    if (autoignition_k.value > limit_c + kCelsiusZeroK) {
      out.value = std::string(name);
      break;
    }
  }
  return out;
}

}  // namespace

void read_safety(RecordReader& reader, Solvent& s) {
  s.flash_point_k =
      reader.safety_number("flash_point", dimension::kTemperature, "", "-4 °C (closed cup) [iec-60079]");
  s.autoignition_k = reader.safety_number("autoignition", dimension::kTemperature, "", "427 °C [cameo]");
  s.temperature_class = temperature_class_of(s.autoignition_k);
  read_flammable_limits(reader, s);
  s.hazard_statements = reader.safety_list("hazard_statements", {"H"}, "H225 H319 H336 [clp-annex-vi]");
  s.supplier_statements = reader.safety_list("supplier_statements", {"H"}, "H319 [memory-supplier]");
  s.euh_statements = reader.safety_list("euh_statements", {"EUH"}, "EUH066 [memory]");
  s.signal_word = reader.safety_text("signal_word", {"Danger", "Warning"});
  s.pictograms = reader.safety_list("pictograms", {"GHS"}, "GHS02 GHS07 [clp-rules]");
  read_q3c(reader, s);
  s.osha_limit_ppm =
      reader.safety_number("osha_limit", dimension::kNumber, "ppm", "400 ppm (8 h mean) [niosh-npg]");
  s.niosh_limit_ppm =
      reader.safety_number("niosh_limit", dimension::kNumber, "ppm", "400 ppm (8 h mean) [niosh-npg]");
  s.idlh_ppm = reader.safety_number("idlh", dimension::kNumber, "ppm", "2000 ppm [niosh-npg]");
  s.iarc_group = reader.safety_text("iarc_group", {"1", "2A", "2B", "3"});
  s.ntp_listing = reader.safety_text("ntp_listing", {"known", "reasonably-anticipated"});
  s.peroxide_class = reader.safety_text("peroxide_class", {"A", "B", "C"});
  for (const auto& [key, topic] : kTopics) {
    const auto scalar = reader.scalar(key);
    if (scalar) s.remarks.push_back({std::string(topic), scalar->value.text, scalar->source});
  }
}

}  // namespace firstcrop
