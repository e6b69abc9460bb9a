#include "report/solubility_report.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "knowledge_fixture.hpp"

namespace firstcrop {
namespace {

Inquiry fluorene() {
  return fixture::inquiry(
      fixture::solute("smiles: \"C1c2ccccc2-c2ccccc21\"\nmelting_point: 115 °C\n"));
}

SolubilityCurve curve(const Inquiry& inquiry, const char* id) {
  SolubilityCurve out{System{{fixture::solvent(id)}, 1}, {}};
  for (double temperature = 278.15; temperature < 345; temperature += 10) {
    out.rows.push_back(solubility_at(inquiry, out.system, temperature));
  }
  return out;
}

// Open tags that were never closed; a picture has none.
std::vector<std::string> unclosed(const std::string& svg) {
  std::vector<std::string> open;
  for (std::size_t at = svg.find('<'); at != std::string::npos; at = svg.find('<', at + 1)) {
    const std::size_t end = svg.find('>', at);
    REQUIRE(end != std::string::npos);
    const std::string inside = svg.substr(at + 1, end - at - 1);
    if (inside.starts_with('/')) {
      REQUIRE_FALSE(open.empty());
      CHECK(open.back() == inside.substr(1));
      open.pop_back();
    } else if (!inside.ends_with('/')) {
      open.push_back(inside.substr(0, inside.find_first_of(" \n")));
    }
  }
  return open;
}

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t out = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++out;
  return out;
}

}  // namespace

TEST_CASE("every curve has a band, a line and a label; all tags are closed") {
  const Inquiry inquiry = fluorene();
  const std::string svg =
      solubility_plot(inquiry, {curve(inquiry, "ethanol"), curve(inquiry, "heptane"), curve(inquiry, "water")});
  CHECK(unclosed(svg).empty());
  CHECK(count(svg, "<polygon") == 3);
  CHECK(count(svg, "<polyline") == 3);
  for (const char* name : {">ethanol<", ">heptane<", ">water<"}) CHECK(svg.find(name) != std::string::npos);
}

TEST_CASE("predicted curves are dashed, measured ones are not") {
  const Inquiry inquiry = fluorene();
  CHECK(count(solubility_plot(inquiry, {curve(inquiry, "ethanol")}), "stroke-dasharray") == 0);
  CHECK(count(solubility_plot(inquiry, {curve(inquiry, "heptane")}), "stroke-dasharray") == 1);
}

TEST_CASE("labels never stand on each other, even of curves that end together") {
  const Inquiry inquiry = fluorene();
  const std::string svg = solubility_plot(
      inquiry, {curve(inquiry, "ethanol"), curve(inquiry, "ethanol"), curve(inquiry, "ethanol")});
  std::vector<double> heights;
  const std::string label_style = "\" fill=\"#";
  for (std::size_t at = svg.find(label_style); at != std::string::npos; at = svg.find(label_style, at + 1)) {
    const std::size_t start = svg.rfind("y=\"", at);
    if (svg.substr(svg.rfind('<', at), 5) == "<text") heights.push_back(std::stod(svg.substr(start + 3, at - start - 3)));
  }
  REQUIRE(heights.size() == 3);
  for (std::size_t i = 0; i < heights.size(); ++i) {
    for (std::size_t j = i + 1; j < heights.size(); ++j) CHECK(std::abs(heights[i] - heights[j]) > 15);
  }
}

TEST_CASE("a name with signs of the markup is written harmlessly") {
  Findings findings;
  Inquiry inquiry = fluorene();
  inquiry.solute.name = "<A & B>";
  const std::string svg = solubility_plot(inquiry, {curve(inquiry, "ethanol")});
  CHECK(svg.find("&lt;A &amp; B&gt;") != std::string::npos);
  CHECK(unclosed(svg).empty());
}

}  // namespace firstcrop
