#include "ranking/rank.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "systems/candidates.hpp"

namespace firstcrop {
namespace {

// Pairs are judged in the order of their usefulness at the means; of those behind this many times the length
// of the list none has a score that could reach it.
constexpr std::size_t kPairsPerPlace = 4;
constexpr std::size_t kFewestPairs = 40;

bool better(const JudgedSystem& left, const JudgedSystem& right, const Library& library) {
  const double left_score = left.judgement.score.value_or(-1);
  const double right_score = right.judgement.score.value_or(-1);
  if (left_score != right_score) return left_score > right_score;
  return name_of(left.system, library) < name_of(right.system, library);
}

bool more_useful(const ChosenPair& left, const ChosenPair& right) {
  return left.usefulness > right.usefulness;
}

}  // namespace

std::vector<std::string> missing_facts(const Judgement& judgement) {
  std::vector<std::string> out;
  for (const RuleOutcome& outcome : judgement.outcomes) {
    for (const std::string& fact : outcome.missing) {
      if (std::find(out.begin(), out.end(), fact) == out.end()) out.push_back(fact);
    }
  }
  return out;
}

RefusedSystem refuse(const SystemJudge& judge, JudgedSystem judged) {
  if (judged.judgement.outcomes.empty()) judge.explain(judged);
  RefusedSystem out{std::move(judged), {}, {}};
  const Judgement& judgement = out.judged.judgement;
  if (!judgement.deciding_rule) return out;
  const Rule& rule = judge.book().rules()[*judgement.deciding_rule];
  out.rule = rule.id.text;
  for (const RuleOutcome& outcome : judgement.outcomes) {
    if (outcome.rule_index == *judgement.deciding_rule && !outcome.text.empty()) {
      out.text = outcome.text;
      break;
    }
  }
  return out;
}

Ranking rank(const SystemJudge& judge, const RankOptions& options) {
  const Library& library = judge.inquiry().knowledge->library;
  const Shelf& shelf = judge.inquiry().aim.shelf;
  std::vector<JudgedSystem> judged;
  Ranking out;
  if (options.only != Only::Pairs) {
    for (const SolventId solvent : shelf.solvents) judged.push_back(judge.judge(System{{solvent}, 1}));
  }
  if (options.only != Only::Singles) {
    const std::size_t enough = std::max(kFewestPairs, kPairsPerPlace * options.top);
    std::vector<ChosenPair> pairs;
    for (const auto& [first, second] : candidate_pairs(shelf, judge.inquiry())) {
      ++out.pairs_considered;
      ChosenPair pair = judge.choose_ratio(first, second);
      // Of equally useful ones the earlier stay in front.
      const auto place = std::upper_bound(pairs.begin(), pairs.end(), pair, more_useful);
      if (place == pairs.end() && pairs.size() == enough) continue;
      pairs.insert(place, std::move(pair));
      if (pairs.size() > enough) pairs.pop_back();
    }
    out.pairs_judged = pairs.size();
    for (const ChosenPair& pair : pairs) {
      judged.push_back(judge.judge(pair.system));
      judged.back().window = pair.window;
    }
  }
  std::sort(judged.begin(), judged.end(), [&library](const JudgedSystem& left, const JudgedSystem& right) {
    return better(left, right, library);
  });
  for (JudgedSystem& system : judged) {
    const Judgement& judgement = system.judgement;
    if (!judgement.excluded && (!judgement.chance || !judgement.score)) {
      judge.explain(system);
      out.not_judged.push_back({system.system, missing_facts(system.judgement)});
    } else if (judgement.verdict == Verdict::Unfit) {
      out.refused.push_back(refuse(judge, std::move(system)));
    } else {
      ++out.suitable_count;
      if (out.systems.size() >= options.top) continue;
      judge.explain(system);
      out.systems.push_back(std::move(system));
    }
  }
  return out;
}

}  // namespace firstcrop
