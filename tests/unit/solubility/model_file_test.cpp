#include "solubility/model_file.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>
#include <set>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "model_fixture.hpp"

namespace firstcrop {
namespace {

std::string fault_of(std::string_view text) {
  const auto parsed = SolubilityModel::parse(text);
  const auto* fault = std::get_if<std::string>(&parsed);
  return fault == nullptr ? std::string() : *fault;
}

bool holds(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

std::string with(std::string text, std::string_view old_part, std::string_view new_part) {
  const std::size_t at = text.find(old_part);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old_part.size(), new_part);
}

}  // namespace

TEST_CASE("the shipped model names each of its solvents once and has an enthalpy term for each") {
  const SolubilityModel& model = shipped_model();
  const std::set<std::string> ids(model.solvent_ids().begin(), model.solvent_ids().end());
  CHECK(ids.size() == 85);
  CHECK(model.solvent_ids().size() == 85);
  CHECK(model.solvents().size() == 85);
  CHECK(model.enthalpy().solvent_terms.size() == 85);
  CHECK(ids.contains("ethanol"));
  CHECK(model.solid_count() > 500);
}

TEST_CASE("in the shipped model cells belong to solids and every number is finite") {
  const auto& data = shipped_model().data();
  std::size_t next = 0;
  for (const LibrarySolid& solid : data.solids) {
    CHECK(solid.first_cell == next);
    next += solid.cell_count;
  }
  CHECK(next == data.cells.size());
  CHECK(data.structure.alpha.size() == data.cells.size());
  CHECK(data.groups.noise_factor.size() == data.cells.size());
  CHECK(data.structure.feature_count() == 39);
  CHECK(data.groups.feature_count() == 31);
  CHECK(data.structure.similarity_weights.features.size() == 39);
  CHECK(data.groups.similarity_weights.features == std::vector<double>(31, 1.0));
  for (const double factor : data.structure.noise_factor) {
    CHECK(factor >= 1);
    CHECK(factor <= 150);
  }
}

TEST_CASE("enthalpies of solution fall with the level and lie where solids lie") {
  const EnthalpyModel& enthalpy = shipped_model().enthalpy();
  const double poor = enthalpy_kj_mol(enthalpy, 2, -2.5, 420, 150);
  const double good = enthalpy_kj_mol(enthalpy, 2, -0.5, 420, 150);
  CHECK(poor > good);
  CHECK(good > 5);
  CHECK(poor < 60);
}

TEST_CASE("a file that is cut short anywhere is called cut short") {
  const std::string& text = shipped_model_text();
  for (std::size_t length = 40; length < text.size(); length += text.size() / 40) {
    const std::string fault = fault_of(std::string_view(text).substr(0, length));
    INFO(length);
    CHECK(holds(fault, "cut short"));
  }
  CHECK(holds(fault_of(std::string_view(text).substr(0, text.size() - 1)), "cut short"));
}

TEST_CASE("one changed character anywhere is noticed") {
  const std::string& text = shipped_model_text();
  for (std::size_t place = 0; place < text.size(); place += text.size() / 50) {
    std::string changed = text;
    changed[place] = changed[place] == '7' ? '8' : '7';
    INFO(place);
    CHECK(!fault_of(changed).empty());
  }
}

TEST_CASE("another kind of file is told apart") {
  CHECK(holds(fault_of(""), "no fitted model"));
  CHECK(holds(fault_of("format: firstcrop solute 1\n"), "no fitted model"));
}

TEST_CASE("a fitted model of another version is called so") {
  for (const char* other : {"1", "3", "10"}) {
    const std::string fault = fault_of(sealed(fmt::format("firstcrop solubility model {}\n", other)));
    INFO(fault);
    CHECK(holds(fault, "line 1"));
    CHECK(holds(fault, "another version"));
    CHECK(holds(fault, "fit it again"));
  }
}

TEST_CASE("lines ended in another system's way are noticed") {
  std::string text;
  for (const char character : shipped_model_text()) {
    if (character == '\n') text += '\r';
    text += character;
  }
  CHECK(!fault_of(text).empty());
}

TEST_CASE("a fault behind a right sum is named with its line") {
  const std::string body = small_body(3);
  REQUIRE(fault_of(sealed(body)).empty());
  const std::vector<std::pair<std::pair<const char*, const char*>, const char*>> cases{
      {{"\nsolvents 85\n", "\nsolvents 86\n"}, "expected"},
      {{"\nsolvents 85\n", "\nsolvents 84\n"}, "expected `enthalpy`"},
      {{"\nsolvents 85\n", "\nsolvents 1\n"}, "at least two solvents"},
      {{"\nsolvents 85\n", "\nsolvents 99999999999\n"}, "the number of solvents"},
      {{"\nmethanol ", "\nwater "}, "does not stand above"},
      {{"\nnoise 0.01067", "\nnoise 0"}, "noise variance above zero"},
      {{"\nnoise 0.01067", "\nnoise nan"}, "noise variance above zero"},
      {{"\nmode groups", "\nmode group"}, "`groups`"},
      {{"similarity neighbour", "similarity neighbor"}, "name of a kernel"},
      {{"constant water 0.156", "constant water -1"}, "variance not below zero"},
      {{" methanol ethyl-acetate", " methylated ethyl-acetate"}, "id of a solvent"},
      {{"\nfeatures 39 15", "\nfeatures 39 40"}, "linear features"},
      {{"\nfeature-sds ", "\nfeature-sds 0 "}, "expected"},
      {{"\nsimilarity-weights 0.4621", "\nsimilarity-weights"}, "40 numbers after `similarity-weights`"},
      {{"\nsimilarity-weights 0.4621", "\nsimilarity-weights -0.1"}, "weights not below zero"},
      {{"\nmelting-point-process 4", "\nmelting-point-process -4"}, "variances not below zero"},
      {{"\nmelting-point-process 4 0.09 0.38 0.115", "\nmelting-point-process 4 0.09 0.38 0"},
       "noise above zero"},
      {{"\nmelting-point-process", "\nmelting-point"}, "melting-point-terms"},
      {{"\t405.15\t", "\t405.15\t-\t"}, "alpha of the melting point"},
      {{"\nsolids 3\n", "\nsolids 4\n"}, "expected a solid"},
      {{"\ngroups 0", "\ngroups"}, "31 numbers after `groups`"},
  };
  for (const auto& [change, expected] : cases) {
    const std::string changed = with(body, change.first, change.second);
    const std::string fault = fault_of(sealed(changed));
    INFO(change.second);
    INFO(fault);
    CHECK(holds(fault, "line "));
    CHECK(holds(fault, expected));
  }
}

TEST_CASE("no random damage behind a right sum does more than make a fault") {
  const std::string body = small_body(2);
  std::uint32_t state = 1;
  const auto random = [&state](std::size_t below) {
    state = state * 1664525U + 1013904223U;
    return static_cast<std::size_t>(state >> 8) % below;
  };
  const std::string_view letters = "0123456789.-e \n\t#=xN";
  int faults = 0;
  for (int round = 0; round < 400; ++round) {
    std::string changed = body;
    for (std::size_t hits = 1 + random(4); hits > 0; --hits) {
      const std::size_t place = 30 + random(changed.size() - 30);
      if (random(3) == 0) {
        changed.erase(place, 1 + random(40));
      } else {
        changed[place] = letters[random(letters.size())];
      }
    }
    if (!fault_of(sealed(changed)).empty()) ++faults;
  }
  CHECK(faults > 50);
}

TEST_CASE("a further solvent with the traits of a fitted one behaves as its twin") {
  const SolubilityModel& model = shipped_model();
  SolventTraits twin = model.solvents()[2];
  REQUIRE(twin.id == "ethanol");
  twin.id = "twin";
  const SolubilityModel larger = model.with_solvents({twin});
  CHECK(larger.solvent_ids().size() == 86);
  CHECK(larger.solvent_ids().back() == "twin");
  const auto& kernels = larger.data().solvent_kernels;
  for (std::size_t other = 0; other < 85; ++other) {
    if (other == 2) continue;
    const KernelValues expected = kernels.values(2, other);
    const KernelValues found = kernels.values(85, other);
    for (std::size_t k = 0; k < kKernelCount; ++k) CHECK(found[k] == doctest::Approx(expected[k]));
  }
  CHECK(std::abs(larger.enthalpy().solvent_terms[85] - larger.enthalpy().solvent_terms[2]) < 3);
  CHECK(model.solvent_ids().size() == 85);
}

TEST_CASE("a further solvent that the model has already changes nothing") {
  const SolubilityModel& model = shipped_model();
  CHECK(model.with_solvents({model.solvents()[5]}).solvent_ids() == model.solvent_ids());
}

}  // namespace firstcrop
