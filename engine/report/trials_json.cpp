#include "report/json_tools.hpp"
#include "report/trials_words.hpp"

namespace firstcrop {

using report::Json;

namespace {

Json points_json(double usefulness) {
  return Json{{"value", report::rounded(usefulness * 100)}, {"unit", "points"}, {"origin", "predicted"}};
}

Json optional_value(const std::optional<double>& value, const char* unit) {
  return value ? report::value_json(*value, unit, Origin::Measured) : Json(nullptr);
}

const char* word_of(LearnedLook::When when) {
  return when == LearnedLook::When::Cold ? "cold" : when == LearnedLook::When::Hot ? "hot" : "cooled";
}

Json cautions_json(const std::vector<RuleOutcome>& outcomes, const JudgedSystem& judged, const Library& library) {
  Json out = Json::array();
  for (const RuleOutcome& outcome : outcomes) out.push_back(report::caution_json(outcome, judged, library));
  return out;
}

Json tube_json(const TrialPlan& plan, const ProposedTube& tube, const Library& library) {
  const TrialSolvent& solvent = plan.solvents[tube.solvent];
  Json decides = Json::array();
  for (const TubeOutcome& outcome : tube.outcomes) {
    decides.push_back({{"seen", sight_words(outcome.sight, solvent)},
                       {"then", then_words(plan, outcome, library)},
                       {"chance", report::rounded(outcome.chance)},
                       {"choice", library.solvent(plan.solvents[outcome.choice].id()).id},
                       {"usefulness", points_json(outcome.usefulness)},
                       {"own_usefulness", points_json(outcome.own)},
                       {"advice", outcome.advice}});
  }
  return Json{{"system", library.solvent(solvent.id()).id},
              {"mass", report::value_json(tube.size.mass_mg, "mg", Origin::Calculated)},
              {"volume", report::value_json(tube.size.volume_ml, "mL", Origin::Calculated)},
              {"value", points_json(tube.worth())},
              {"promised", points_json(tube.gain)},
              {"decides", std::move(decides)},
              {"cold_look_at", report::value_json(solvent.bottle.room_k, "°C", Origin::Calculated)},
              {"hot_at", report::value_json(solvent.bottle.hot_k, "°C", Origin::Calculated)},
              {"at_boil", solvent.is_hot_at_boil()},
              {"cooled_to", report::value_json(solvent.bottle.cold_k, "°C", Origin::Calculated)},
              {"top_up", tube.top_up ? Json{{"tube", tube.top_up->tube},
                                            {"volume", report::value_json(tube.top_up->volume_ml, "mL",
                                                                          Origin::Calculated)}}
                                     : Json(nullptr)},
              {"cautions", cautions_json(tube.cautions, solvent.judged, library)}};
}

Json pair_json(const ProposedPair& pair, const Library& library) {
  const System& system = pair.judged.system;
  return Json{{"system", name_of(system, library)},
              {"good", library.solvent(system.solvents[0]).id},
              {"poor", library.solvent(system.solvents[1]).id},
              {"mass", report::value_json(pair.in_good.mass_mg, "mg", Origin::Calculated)},
              {"volume_of_good", report::value_json(pair.in_good.volume_ml, "mL", Origin::Calculated)},
              {"cloud_volume", report::quantity_json(pair.cloud_ml, "mL")},
              {"hot_at", report::value_json(pair.hot_k, "°C", Origin::Calculated)},
              {"chance", report::rounded(pair.chance)},
              {"text", pair_words(pair, library)},
              {"cautions", cautions_json(pair.cautions, pair.judged, library)}};
}

Json lesson_json(const TubeLesson& lesson, const Library& library) {
  Json looks = Json::array();
  for (const LearnedLook& look : lesson.looks) {
    looks.push_back({{"look", word_of(look.when)},
                     {"at", report::value_json(look.temperature_k, "°C", Origin::Given)},
                     {"seen", look.seen},
                     {"over", optional_value(look.over_mg_ml, "mg/mL")},
                     {"under", optional_value(look.under_mg_ml, "mg/mL")},
                     {"before", report::quantity_json(look.before, "mg/mL")},
                     {"now", report::quantity_json(look.now, "mg/mL")},
                     {"chance_before", report::rounded(look.chance_before)},
                     {"believed", report::rounded(look.believed)},
                     {"against", look.against}});
  }
  const auto expectation = [](const std::optional<Expectation>& expected) {
    return expected ? Json{{"usefulness", points_json(expected->usefulness)},
                           {"chance", report::rounded(expected->chance)}}
                    : Json(nullptr);
  };
  const auto choice = [&library](const std::optional<SolventId>& solvent) {
    return solvent ? Json(library.solvent(*solvent).id) : Json(nullptr);
  };
  return Json{{"tube", lesson.tube},
              {"system", name_of(lesson.system, library)},
              {"mass", report::value_json(lesson.size.mass_mg, "mg", Origin::Given)},
              {"volume", report::value_json(lesson.size.volume_ml, "mL", Origin::Given)},
              {"looks", std::move(looks)},
              {"before", expectation(lesson.before)},
              {"after", expectation(lesson.after)},
              {"after_oil", report::rounded(lesson.after_oil)},
              {"choice_before", choice(lesson.choice_before)},
              {"choice_after", choice(lesson.choice_after)},
              {"text", lesson_words(lesson, library)},
              {"advice", lesson.advice}};
}

}  // namespace

std::string trials_json(const SystemJudge& judge, const TrialsAnswer& answer, const std::string& version,
                        const std::string& data_fingerprint, const std::vector<Finding>& findings) {
  const Library& library = judge.inquiry().knowledge->library;
  const TrialPlan& plan = answer.plan;
  Json out = report::head_json({"firstcrop/trials/1", version, data_fingerprint}, judge.inquiry(), findings);
  out["advice"] = std::string(name_of(plan.advice));
  out["sentence"] = trial_headline(judge, plan);
  Json tubes = Json::array();
  for (const ProposedTube& tube : plan.tubes) tubes.push_back(tube_json(plan, tube, library));
  out["tubes"] = std::move(tubes);
  Json learned = Json::array();
  for (const TubeLesson& lesson : answer.lessons) learned.push_back(lesson_json(lesson, library));
  out["learned"] = std::move(learned);
  out["pair"] = plan.pair ? pair_json(*plan.pair, library) : Json(nullptr);
  Json solvents = Json::array();
  for (const TrialSolvent& solvent : plan.solvents) {
    solvents.push_back({{"system", library.solvent(solvent.id()).id},
                        {"usefulness", points_json(solvent.expected.usefulness)},
                        {"chance", report::rounded(solvent.expected.chance)},
                        {"tubed", solvent.tubed}});
  }
  out["choice"] = solvents.empty() ? Json(nullptr) : solvents.front();
  out["solvents"] = std::move(solvents);
  const bool judged = !plan.solvents.empty();
  out["best_or_within_5_points"] = judged ? report::rounded(plan.best_or_close) : Json(nullptr);
  out["any_works"] = judged ? report::rounded(plan.any_works) : Json(nullptr);
  Json left_out = Json::array();
  for (const LeftOut& one : plan.left_out) {
    left_out.push_back({{"system", name_of(one.system, library)}, {"rule", one.rule}, {"text", left_out_words(one)}});
  }
  out["left_out"] = std::move(left_out);
  Json not_judged = Json::array();
  for (const NotJudgedSystem& one : plan.not_judged) {
    not_judged.push_back({{"system", name_of(one.system, library)}, {"missing", one.missing}});
  }
  out["not_judged"] = std::move(not_judged);
  return report::to_text(out);
}

}  // namespace firstcrop
