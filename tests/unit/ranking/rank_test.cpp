#include "ranking/rank.hpp"

#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>

#include "knowledge_fixture.hpp"
#include "rules_fixture.hpp"

namespace firstcrop {
namespace {

const std::string kBenzoicAcid = "smiles: \"O=C(O)c1ccccc1\"\nmelting_point: 122 °C\n";
const std::string kShelf = "water,ethanol,acetone,toluene,heptane,methanol,acetonitrile,ethyl-acetate";

using fixture::book;
using fixture::catalogue;

// One inquiry with its judge.
class Bench {
 public:
  explicit Bench(const std::string& lines, const std::string& shelf = kShelf,
                 const KnowledgeBase& base = fixture::knowledge()) {
    AimOptions options;
    options.shelf = shelf;
    inquiry_ = fixture::inquiry(fixture::solute(lines, base), options, false, base);
    Findings findings;
    judge_ = SystemJudge::create(catalogue(), inquiry_, book(), findings);
    REQUIRE(judge_);
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  [[nodiscard]] const SystemJudge& judge() const { return *judge_; }
  [[nodiscard]] const Library& library() const { return inquiry_.knowledge->library; }
  [[nodiscard]] std::string name(const System& system) const { return name_of(system, library()); }

 private:
  Inquiry inquiry_;
  std::optional<SystemJudge> judge_;
};

// Everything that a ranking says, in a form that can be compared.
std::vector<std::string> told(const Bench& bench, const RankOptions& options) {
  const Ranking ranking = rank(bench.judge(), options);
  std::vector<std::string> out;
  const auto numbers = [](const Judgement& judgement) {
    return " " + std::to_string(judgement.score.value_or(-1)) + " " +
           std::to_string(judgement.chance.value_or(-1)) + " " + std::string(name_of(judgement.verdict));
  };
  for (const JudgedSystem& judged : ranking.systems) {
    out.push_back("fit " + bench.name(judged.system) + numbers(judged.judgement));
  }
  for (const RefusedSystem& refused : ranking.refused) {
    out.push_back("refused " + bench.name(refused.judged.system) + numbers(refused.judged.judgement) + " " +
                  refused.rule + " " + refused.text);
  }
  for (const NotJudgedSystem& unknown : ranking.not_judged) {
    out.push_back("not judged " + bench.name(unknown.system));
  }
  out.push_back(std::to_string(ranking.suitable_count) + " " + std::to_string(ranking.pairs_considered) +
                " " + std::to_string(ranking.pairs_judged));
  return out;
}

}  // namespace

TEST_CASE("the order in which the shelf is named changes nothing") {
  const Bench one(kBenzoicAcid);
  const Bench other(kBenzoicAcid,
                    "ethyl-acetate,heptane,acetonitrile,water,methanol,toluene,ethanol,acetone");
  CHECK(told(one, {}) == told(other, {}));
}

TEST_CASE("the list is sorted by score and as long as asked for") {
  const Bench bench(kBenzoicAcid);
  const Ranking all = rank(bench.judge(), {Only::All, 1000});
  CHECK(all.systems.size() == all.suitable_count);
  REQUIRE(all.systems.size() > 3);
  for (std::size_t i = 1; i < all.systems.size(); ++i) {
    CHECK(*all.systems[i - 1].judgement.score >= *all.systems[i].judgement.score);
  }
  const Ranking three = rank(bench.judge(), {Only::All, 3});
  REQUIRE(three.systems.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) CHECK(three.systems[i].system == all.systems[i].system);
}

TEST_CASE("singles only, pairs only, and both") {
  const Bench bench(kBenzoicAcid);
  const auto pairs_in = [&](Only only) {
    const Ranking ranking = rank(bench.judge(), {only, 1000});
    std::set<bool> out;
    for (const JudgedSystem& judged : ranking.systems) out.insert(judged.system.is_pair());
    for (const RefusedSystem& refused : ranking.refused) out.insert(refused.judged.system.is_pair());
    return out;
  };
  CHECK(pairs_in(Only::Singles) == std::set<bool>{false});
  CHECK(pairs_in(Only::Pairs) == std::set<bool>{true});
  CHECK(pairs_in(Only::All) == std::set<bool>{false, true});
  CHECK(rank(bench.judge(), {Only::Singles, 10}).pairs_considered == 0);
}

TEST_CASE("every single stands in exactly one of fit, refused and not judged") {
  const Bench bench(kBenzoicAcid);
  const Ranking ranking = rank(bench.judge(), {Only::Singles, 1000});
  std::multiset<std::string> names;
  for (const JudgedSystem& judged : ranking.systems) names.insert(bench.name(judged.system));
  for (const RefusedSystem& refused : ranking.refused) names.insert(bench.name(refused.judged.system));
  for (const NotJudgedSystem& unknown : ranking.not_judged) names.insert(bench.name(unknown.system));
  std::multiset<std::string> shelf;
  for (const SolventId solvent : bench.judge().inquiry().aim.shelf.solvents) {
    shelf.insert(bench.library().solvent(solvent).id);
  }
  CHECK(shelf.size() == 8);
  CHECK(names == shelf);
}

TEST_CASE("every considered pair is told once, fit, refused or not judged") {
  const Bench bench(kBenzoicAcid);
  const Ranking ranking = rank(bench.judge(), {Only::Pairs, 1000});
  std::set<std::string> keys;
  for (const JudgedSystem& judged : ranking.systems)
    keys.insert(evidence_key(judged.system, bench.library()));
  for (const RefusedSystem& refused : ranking.refused) {
    keys.insert(evidence_key(refused.judged.system, bench.library()));
  }
  for (const NotJudgedSystem& unknown : ranking.not_judged) {
    keys.insert(evidence_key(unknown.system, bench.library()));
  }
  CHECK(ranking.pairs_judged == ranking.pairs_considered);
  CHECK(ranking.systems.size() + ranking.refused.size() + ranking.not_judged.size() ==
        ranking.pairs_considered);
  CHECK(keys.size() == ranking.pairs_considered);
}

TEST_CASE("fit systems are sound or doubtful, refused ones unfit") {
  const Bench bench("smiles: \"O=C(Cl)c1ccc([N+](=O)[O-])cc1\"\nmelting_point: 73 °C\n");
  const Ranking ranking = rank(bench.judge(), {Only::All, 1000});
  REQUIRE_FALSE(ranking.refused.empty());
  for (const JudgedSystem& judged : ranking.systems) CHECK(judged.judgement.verdict != Verdict::Unfit);
  for (const RefusedSystem& refused : ranking.refused) {
    CHECK(refused.judged.judgement.verdict == Verdict::Unfit);
    CHECK_FALSE((refused.rule.empty() && refused.judged.judgement.chance.value_or(1) >= 0.1));
  }
}

TEST_CASE("a pair that parts into layers is unfit, and the rule that says so is named") {
  const Bench bench(kBenzoicAcid);
  const RefusedSystem refused =
      refuse(bench.judge(), bench.judge().judge(fixture::system("heptane+water@50:50")));
  CHECK(refused.judged.judgement.verdict == Verdict::Unfit);
  CHECK(refused.judged.judgement.excluded);
  CHECK(refused.rule == "one-liquid");
  CHECK(refused.text.find("two liquids") != std::string::npos);
}

TEST_CASE("a pair that reacts is unfit, and the rule that says so is named") {
  const Bench bench(kBenzoicAcid);
  const RefusedSystem refused =
      refuse(bench.judge(), bench.judge().judge(fixture::system("acetone+chloroform@50:50")));
  CHECK(refused.judged.judgement.verdict == Verdict::Unfit);
  CHECK(refused.rule == "solvents-react");
}

TEST_CASE("a system has no score if and only if a rule excludes it") {
  const Bench bench("smiles: \"O=C(Cl)c1ccc([N+](=O)[O-])cc1\"\nmelting_point: 73 °C\n");
  int excluded = 0;
  int scored = 0;
  for (const SolventId solvent : bench.judge().inquiry().aim.shelf.solvents) {
    const Judgement judgement = bench.judge().judge(System{{solvent}, 1}).judgement;
    INFO(bench.library().solvent(solvent).id);
    CHECK(judgement.excluded != judgement.score.has_value());
    ++(judgement.excluded ? excluded : scored);
  }
  CHECK(excluded >= 3);
  CHECK(scored >= 2);
  const Judgement layers = bench.judge().judge(fixture::system("heptane+acetonitrile@50:50")).judgement;
  CHECK(layers.excluded != layers.score.has_value());
}

TEST_CASE("the better solvent of a pair stands first, with its own share") {
  const Bench bench(kBenzoicAcid);
  const System good = bench.judge().with_good_first(fixture::system("water+ethanol@30:70"));
  CHECK(bench.name(good) == "ethanol+water@70:30");
  CHECK(bench.judge().with_good_first(good) == good);
}

TEST_CASE("the ratio of a pair is the same from either side and lies in its window") {
  const Bench bench(kBenzoicAcid);
  const ChosenPair one = bench.judge().choose_ratio(fixture::solvent("ethanol"), fixture::solvent("water"));
  const ChosenPair other = bench.judge().choose_ratio(fixture::solvent("water"), fixture::solvent("ethanol"));
  CHECK(one.system == other.system);
  CHECK(one.window.from <= one.system.first_fraction);
  CHECK(one.system.first_fraction <= one.window.to);
  CHECK(one.usefulness > 0);
}

TEST_CASE(
    "a solvent of one's own with nothing but a boiling point is not judged, and what is missing is named") {
  const auto path = std::filesystem::temp_directory_path() / ("firstcrop-rank-test-" + std::to_string(getpid()) + ".yaml");
  std::ofstream(path) << "format: firstcrop solvents 1\nsolvents:\n- id: bottle-seven\n  name: bottle seven\n"
                         "  boiling_point: 80 °C [label]\n";
  Findings findings;
  const auto base = load_knowledge({FIRSTCROP_SOURCE_DIR, std::nullopt, {path.string()}}, findings);
  std::filesystem::remove(path);
  REQUIRE(base);
  const Bench bench(kBenzoicAcid, "water,bottle-seven", *base);
  const Ranking ranking = rank(bench.judge(), {Only::Singles, 10});
  REQUIRE(ranking.not_judged.size() == 1);
  CHECK(bench.name(ranking.not_judged[0].system) == "bottle-seven");
  const auto& missing = ranking.not_judged[0].missing;
  CHECK(std::find(missing.begin(), missing.end(), "system.hot_solubility") != missing.end());
  CHECK(ranking.systems.size() + ranking.refused.size() == 1);
}

}  // namespace firstcrop
