#include "library/library_checks.hpp"

#include <cmath>

#include "library/library_data.hpp"
#include "temporary_library.hpp"

using namespace firstcrop;

namespace {

// The project's library with one record changed.
template <typename Change>
std::string findings_after(Change change) {
  auto data = std::make_shared<Library::Data>(project_library().data());
  change(*data);
  std::string out;
  for (const Finding& finding : cross_record_checks(Library(data)).sorted()) out += to_text(finding);
  return out;
}

Solvent& record(Library::Data& data, const std::string& id) {
  return data.solvents[data.find(id)->index];
}

}  // namespace

TEST_SUITE("cross-record checks") {
  TEST_CASE("the library of the project passes") {
    for (const Finding& finding : cross_record_checks(project_library()).sorted())
      FAIL_CHECK(to_text(finding));
  }

  TEST_CASE("a solvent that would boil before it melts is found") {
    CHECK(holds(
        findings_after([](Library::Data& data) { record(data, "toluene").freezing_point_k->value = 400; }),
        "solvent toluene: error: it would boil before it melts"));
  }

  TEST_CASE("an Antoine equation that misses the boiling point by 4 % is found, one by 2 % is not") {
    const auto shifted = [](double factor) {
      return findings_after([factor](Library::Data& data) {
        Solvent& water = record(data, "water");
        water.antoine->a +=
            std::log10(factor * 101.325 / water.antoine->pressure_kpa(water.boiling_point_k->value));
      });
    };
    CHECK(holds(shifted(1.04), "the Antoine equation gives"));
    CHECK(shifted(1.02).empty());
  }

  TEST_CASE("a density line that does not meet the density is found") {
    CHECK(holds(findings_after([](Library::Data& data) { record(data, "acetone").density->a += 0.02; }),
                "the density line gives"));
  }

  TEST_CASE("a value without a source and a source without explanation are found") {
    const std::string findings = findings_after([](Library::Data& data) {
      record(data, "acetone").permittivity->source.clear();
      record(data, "acetone").polarity->source = "hearsay";
    });
    CHECK(holds(findings, "`permittivity` has no source"));
    CHECK(holds(findings, "the source `hearsay` of `polarity` is not explained"));
  }

  TEST_CASE("safety values that contradict each other are found") {
    const std::string findings = findings_after([](Library::Data& data) {
      record(data, "acetone").autoignition_k.value = 200;
      record(data, "acetone").signal_word.knowledge = Knowledge::NoneKnown;
      record(data, "toluene").upper_flammable_limit.value = 0.001;
    });
    CHECK(holds(findings, "its flash point is not below its autoignition temperature"));
    CHECK(holds(findings, "hazard statements and signal word do not go together"));
    CHECK(holds(findings, "its flammable limits are not in order"));
  }

  TEST_CASE("a pair without a record, or with two, is found") {
    CHECK(holds(findings_after([](Library::Data& data) { data.miscibilities.pop_back(); }),
                "this pair has no miscibility record"));
    CHECK(holds(
        findings_after([](Library::Data& data) { data.miscibilities.push_back(data.miscibilities.front()); }),
        "this pair has two miscibility records"));
  }

  TEST_CASE("an azeotrope that boils on the wrong side of both solvents is found") {
    CHECK(holds(findings_after([](Library::Data& data) { data.azeotropes.front().temperature_k += 60; }),
                "azeotrope cannot boil at"));
  }

  TEST_CASE("a miscible pair with a published critical temperature above room temperature is found") {
    CHECK(holds(findings_after([](Library::Data& data) {
                  for (MiscibilityRecord& pair : data.miscibilities) {
                    if (pair.upper_critical_temperature_k && !pair.upper_critical_from_memory) {
                      pair.miscibility = MiscibilityClass::Miscible;
                      pair.upper_critical_temperature_k = 350;
                    }
                  }
                }),
                "the class does not fit the upper critical solution temperature"));
  }
}
