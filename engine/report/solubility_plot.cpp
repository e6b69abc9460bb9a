#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "report/solubility_report.hpp"

namespace firstcrop {
namespace {

constexpr double kWidth = 900;
constexpr double kHeight = 600;
constexpr double kLeft = 70;
constexpr double kRight = 690;  // labels stand beyond
constexpr double kTop = 70;
constexpr double kBottom = 520;
constexpr double kLabelStep = 19;
constexpr double kZeroCelsiusK = 273.15;

// Okabe and Ito, Color Universal Design, 2008; black and yellow left out.
constexpr std::array<const char*, 8> kColours{"#0072B2", "#D55E00", "#009E73", "#CC79A7",
                                              "#56B4E9", "#E69F00", "#555555", "#7A3E9D"};

struct Span {
  double low = 0;
  double high = 1;
};

std::string escaped(const std::string& text) {
  std::string out;
  for (const char character : text) {
    switch (character) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      default:
        out += character;
    }
  }
  return out;
}

class Picture {
 public:
  Picture(Span temperature_c, Span log10_mg_ml) : temperature_c_(temperature_c), log10_mg_ml_(log10_mg_ml) {}

  [[nodiscard]] double x(double temperature_k) const {
    const double share = (temperature_k - kZeroCelsiusK - temperature_c_.low) /
                         (temperature_c_.high - temperature_c_.low);
    return kLeft + share * (kRight - kLeft);
  }
  [[nodiscard]] double y(double mg_ml) const {
    const double level = std::clamp(std::log10(mg_ml), log10_mg_ml_.low, log10_mg_ml_.high);
    return kBottom - (level - log10_mg_ml_.low) / (log10_mg_ml_.high - log10_mg_ml_.low) * (kBottom - kTop);
  }

  void line(double x1, double y1, double x2, double y2, const char* style) {
    out_ += fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" {}/>\n", x1, y1, x2, y2,
                        style);
  }
  void text(double at_x, double at_y, const std::string& words, const char* style) {
    out_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" {}>{}</text>\n", at_x, at_y, style, escaped(words));
  }

  void grid() {
    for (double degree = std::ceil(temperature_c_.low / 20) * 20; degree <= temperature_c_.high; degree += 20) {
      const double at = x(degree + kZeroCelsiusK);
      line(at, kTop, at, kBottom, "stroke=\"#dddddd\"");
      text(at, kBottom + 18, fmt::format("{:.0f}", degree), "text-anchor=\"middle\"");
    }
    for (double level = log10_mg_ml_.low; level <= log10_mg_ml_.high + 1e-9; level += 1) {
      const double value = std::pow(10.0, level);
      line(kLeft, y(value), kRight, y(value), "stroke=\"#dddddd\"");
      text(kLeft - 8, y(value) + 4, fmt::format("{:g}", value), "text-anchor=\"end\"");
    }
    line(kLeft, kBottom, kRight, kBottom, "stroke=\"#000000\"");
    line(kLeft, kTop, kLeft, kBottom, "stroke=\"#000000\"");
    text((kLeft + kRight) / 2, kBottom + 42, "temperature, °C", "text-anchor=\"middle\"");
    out_ += fmt::format(
        "<text transform=\"translate(20 {:.0f}) rotate(-90)\" text-anchor=\"middle\">mg per mL of "
        "solvent</text>\n",
        (kTop + kBottom) / 2);
  }

  void band(const SolubilityCurve& curve, const char* colour) {
    std::string upper;
    std::string lower;
    for (const SolubilityRow& row : curve.rows) {
      const Quantity& value = *row.solubility;
      upper += fmt::format("{:.1f},{:.1f} ", x(row.temperature_k), y(value.high.value_or(value.value)));
      lower = fmt::format("{:.1f},{:.1f} ", x(row.temperature_k), y(value.low.value_or(value.value))) + lower;
    }
    out_ += fmt::format("<polygon points=\"{}{}\" fill=\"{}\" fill-opacity=\"0.10\" stroke=\"none\"/>\n", upper,
                        lower, colour);
  }

  void curve(const SolubilityCurve& drawn, const char* colour) {
    std::string points;
    for (const SolubilityRow& row : drawn.rows) {
      points += fmt::format("{:.1f},{:.1f} ", x(row.temperature_k), y(row.solubility->value));
    }
    const bool measured = is_measured(drawn.rows.front().solubility->origin);
    out_ += fmt::format("<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"2.2\"{}/>\n", points,
                        colour, measured ? "" : " stroke-dasharray=\"7 4\"");
  }

  [[nodiscard]] const std::string& drawn() const { return out_; }

 private:
  Span temperature_c_;
  Span log10_mg_ml_;
  std::string out_;
};

Span temperatures_of(const std::vector<SolubilityCurve>& curves) {
  Span out{1e9, -1e9};
  for (const SolubilityCurve& curve : curves) {
    out.low = std::min(out.low, curve.rows.front().temperature_k - kZeroCelsiusK);
    out.high = std::max(out.high, curve.rows.back().temperature_k - kZeroCelsiusK);
  }
  return {std::floor(out.low / 10) * 10, std::ceil(out.high / 10) * 10};
}

// Whole decades around the middle curves and their bands, at most six of them.
Span decades_of(const std::vector<SolubilityCurve>& curves) {
  Span out{1e9, -1e9};
  for (const SolubilityCurve& curve : curves) {
    for (const SolubilityRow& row : curve.rows) {
      out.low = std::min(out.low, std::log10(row.solubility->low.value_or(row.solubility->value)));
      out.high = std::max(out.high, std::log10(row.solubility->high.value_or(row.solubility->value)));
    }
  }
  const double high = std::ceil(out.high - 0.05);
  const double low = std::max(std::floor(out.low + 0.05), high - 6);
  return {std::min(low, high - 1), high};
}

// Heights of the labels: in the order of the curves' ends, never closer than one line, inside the frame.
std::vector<double> label_heights(const std::vector<double>& wanted) {
  std::vector<std::size_t> order(wanted.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return wanted[a] < wanted[b]; });
  std::vector<double> out(wanted.size());
  double last = kTop - kLabelStep;
  for (const std::size_t i : order) last = out[i] = std::max(wanted[i], last + kLabelStep);
  double next = kBottom + kLabelStep;
  for (auto i = order.rbegin(); i != order.rend(); ++i) next = out[*i] = std::min(out[*i], next - kLabelStep);
  return out;
}

}  // namespace

std::string solubility_plot(const Inquiry& inquiry, const std::vector<SolubilityCurve>& curves) {
  const Library& library = inquiry.knowledge->library;
  Picture picture(temperatures_of(curves), decades_of(curves));
  picture.grid();
  std::vector<double> ends;
  for (std::size_t i = 0; i < curves.size(); ++i) {
    picture.band(curves[i], kColours[i % kColours.size()]);
    ends.push_back(picture.y(curves[i].rows.back().solubility->value));
  }
  const std::vector<double> heights = label_heights(ends);
  for (std::size_t i = 0; i < curves.size(); ++i) {
    const char* colour = kColours[i % kColours.size()];
    picture.curve(curves[i], colour);
    const SolubilityRow& last = curves[i].rows.back();
    picture.line(picture.x(last.temperature_k), ends[i], kRight + 12, heights[i],
                 fmt::format("stroke=\"{}\" stroke-width=\"0.8\"", colour).c_str());
    picture.text(kRight + 16, heights[i] + 4, spoken_name(curves[i].system, library),
                 fmt::format("fill=\"{}\" font-weight=\"bold\"", colour).c_str());
  }
  std::string out = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}\" height=\"{1:.0f}\" viewBox=\"0 0 {0:.0f} "
      "{1:.0f}\" font-family=\"sans-serif\" font-size=\"13\">\n<title>Solubility of {2}</title>\n<rect "
      "width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n",
      kWidth, kHeight, escaped(inquiry.solute.name));
  out += fmt::format("<text x=\"{:.0f}\" y=\"30\" font-size=\"17\" font-weight=\"bold\">Solubility of {}</text>\n",
                     kLeft, escaped(inquiry.solute.name));
  out += fmt::format(
      "<text x=\"{:.0f}\" y=\"51\">bands hold 8 times in 10; full lines measured, dashed lines predicted; up to "
      "the boil or the melting point</text>\n",
      kLeft);
  return out + picture.drawn() + "</svg>\n";
}

}  // namespace firstcrop
