#include "plan/crop_judgement.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "knowledge_fixture.hpp"
#include "rules_fixture.hpp"

namespace firstcrop {
namespace {

const std::string kFluorene = "smiles: \"C1c2ccccc2-c2ccccc21\"\nmelting_point: 115 °C\n";

struct Bench {
  Findings findings;
  Inquiry inquiry;
  std::optional<SystemJudge> judge;

  explicit Bench(const std::string& lines)
      : inquiry(fixture::inquiry(fixture::solute(lines))),
        judge(SystemJudge::create(fixture::catalogue(), inquiry, fixture::book(), findings)) {}

  [[nodiscard]] CropJudgement crop(double crop_mg, const char* melts = nullptr, const char* system = nullptr) const {
    WeighedCrop out;
    out.crude_mg = 4000;
    out.crop_mg = crop_mg;
    if (melts != nullptr) out.melting_range_k = parse_quantity(melts, dimension::kTemperature).quantity;
    if (system != nullptr) out.system = fixture::system(system);
    return judge_crop(*judge, out);
  }
};

bool says(const CropJudgement& judgement, const char* rule) {
  return std::any_of(judgement.next.begin(), judgement.next.end(),
                     [rule](const RuleOutcome& outcome) { return outcome.rule.text == rule; });
}

}  // namespace

TEST_CASE("recovery is told on both bases, against the limit") {
  const Bench bench(kFluorene + "impurities:\n- {name: dirt, share: 10 %}\n");
  const CropJudgement crop = bench.crop(3100, "114 to 115 °C", "ethanol");
  CHECK(crop.recovery.value == doctest::Approx(0.775));
  REQUIRE(crop.recovery_of_pure);
  CHECK(crop.recovery_of_pure->value == doctest::Approx(0.775 / 0.9).epsilon(1e-6));
  REQUIRE(crop.limit);
  CHECK(crop.limit->value > 0.6);
  REQUIRE(crop.purity);
  CHECK(crop.purity->value == doctest::Approx(1));
  CHECK(crop.missing.empty());
  CHECK(says(crop, "crop-melts-pure"));
  CHECK(says(crop, "crop-melting-tells-not-all"));
}

TEST_CASE("the crude's own melting range serves where its purity is not stated") {
  const Bench bench(kFluorene + "crude_melting_range: 105 to 110 °C\n");
  const CropJudgement crop = bench.crop(3100, "111 to 113 °C");
  REQUIRE(crop.pure_share);
  CHECK(crop.pure_share->origin == Origin::Predicted);
  CHECK(crop.pure_share->value < 0.96);
  REQUIRE(crop.gain_k);
  CHECK(*crop.gain_k == doctest::Approx(3));
  CHECK(says(crop, "crop-repeat"));
  CHECK_FALSE(says(crop, "crop-did-not-gain"));
}

TEST_CASE("a melting point that stood still asks for another solvent or method") {
  const Bench bench(kFluorene + "crude_melting_range: 105 to 110 °C\n");
  const CropJudgement crop = bench.crop(3100, "106 to 110 °C");
  CHECK(says(crop, "crop-did-not-gain"));
  CHECK_FALSE(says(crop, "crop-repeat"));
}

TEST_CASE("more than was taken, or than the liquor leaves, is not dry") {
  const Bench bench(kFluorene + "crude: {insoluble: 0 %}\n");
  CHECK(says(bench.crop(4200, "113 to 115 °C"), "crop-more-than-taken"));
  CHECK_FALSE(says(bench.crop(3000, "113 to 115 °C"), "crop-more-than-taken"));
  CHECK(says(bench.crop(3990, "114 to 115 °C", "toluene"), "crop-above-limit"));
}

TEST_CASE("a sharp range far too low is taken for wet crystals, not for impurity alone") {
  // Acetanilide, wet with water, melts sharply near 83 °C, dry at 114 °C (J. B. Cohen, Practical Organic Chemistry).
  const Bench bench("smiles: \"CC(=O)Nc1ccccc1\"\nmelting_point: 114 °C\n");
  const CropJudgement crop = bench.crop(3000, "83 to 84 °C");
  REQUIRE_FALSE(crop.next.empty());
  CHECK(crop.next.front().rule.text == "crop-sharp-but-low");
  CHECK(crop.next.front().kind == RuleKind::Caution);
}

TEST_CASE("above the pure solid, or over a wide range, no purity is made up") {
  const Bench bench(kFluorene + "crude: {insoluble: 1 to 5 %}\n");
  const CropJudgement above = bench.crop(3000, "117 to 119 °C");
  CHECK_FALSE(above.purity);
  CHECK(says(above, "crop-melts-above"));
  CHECK_FALSE(says(above, "crop-melting-tells-not-all"));
  const CropJudgement wide = bench.crop(3000, "105 to 114 °C");
  CHECK_FALSE(wide.purity);
  CHECK(says(wide, "crop-wide-range"));
  CHECK(bench.crop(3000, "114 to 115.5 °C").purity);
  CHECK(bench.crop(3000, "111 to 113.5 °C").purity);
}

TEST_CASE("a crop that is too heavy is told once to be dried") {
  const Bench bench(kFluorene + "crude: {insoluble: 1 to 5 %}\n");
  for (const char* melts : {"114 to 115 °C", "110 to 114 °C", "118 to 119 °C"}) {
    INFO(melts);
    const CropJudgement crop = bench.crop(4240, melts, "ethanol");
    CHECK(std::count_if(crop.next.begin(), crop.next.end(), [](const RuleOutcome& outcome) {
            return outcome.text.find("dry it") != std::string::npos;
          }) == 1);
  }
}

TEST_CASE("the more solvent was taken the lower the limit, as the mass balance has it") {
  const Bench bench(kFluorene + "crude: {insoluble: 0 %}\n");
  WeighedCrop weighed;
  weighed.crude_mg = 4000;
  weighed.crop_mg = 3000;
  weighed.system = fixture::system("ethanol");
  double before = 1;
  for (const double volume_ml : {20.0, 60.0, 180.0}) {
    weighed.volume_ml = volume_ml;
    const CropJudgement crop = judge_crop(*bench.judge, weighed);
    REQUIRE(crop.limit);
    CHECK(crop.limit->value < before);
    before = crop.limit->value;
  }
  weighed.volume_ml = 100000;
  CHECK(judge_crop(*bench.judge, weighed).limit->value == 0);
}

TEST_CASE("what is lacking is named and nothing is made up for it") {
  const Bench bench("");
  const CropJudgement crop = bench.crop(1000, "100 to 104 °C");
  CHECK_FALSE(crop.purity);
  CHECK_FALSE(crop.recovery_of_pure);
  CHECK_FALSE(crop.limit);
  CHECK(crop.missing.size() == 3);
  CHECK(says(crop, "crop-low-without-limit"));
}

TEST_CASE("only rules that look at the crop speak of it") {
  const Bench bench(kFluorene);
  const CropJudgement crop = bench.crop(3000, "112 to 114 °C", "ethanol");
  for (const RuleOutcome& outcome : crop.next) CHECK(outcome.rule.text.starts_with("crop-"));
}

}  // namespace firstcrop
