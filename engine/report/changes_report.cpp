#include "report/changes_report.hpp"

#include <array>

#include <fmt/format.h>

#include "report/table.hpp"

namespace firstcrop::report {
namespace {

std::string celsius(const std::optional<Quantity>& quantity) {
  return show(quantity->value, *find_unit("°C"));
}

std::string bath_words(const Change& change) {
  const bool is_colder = change.to->value < change.from->value;
  return fmt::format("{} bath, {} instead of {}", is_colder ? "a colder" : "a warmer", celsius(change.to),
                     celsius(change.from));
}

std::string limit_words(const Change& change, const JudgedSystem& judged) {
  const auto hot = quantity_of(judged, "system.hot_temperature");
  const bool is_higher = change.to->value > change.from->value;
  if (is_higher) {
    return fmt::format("a heating limit of {} instead of {}", celsius(change.to), celsius(change.from));
  }
  return fmt::format("heated to {} at most{}", celsius(change.to),
                     hot ? fmt::format(" instead of {}", show(hot->value, *find_unit("°C"))) : "");
}

std::string tube_words(const ImaginedTube& tube) {
  const std::string filled = fmt::format("a tube, {} in {}", show(tube.mass_mg, *find_unit("mg")),
                                         show(tube.volume_ml, *find_unit("mL")));
  std::string seen = "in which all dissolves cold";
  if (tube.cooled) {
    seen = "that goes hot and not cold, and gives crystals, not oil";
  } else if (tube.hot) {
    seen = "in which a part stays undissolved at the boil";
  }
  return fmt::format("{} {} (likely to {})", filled, seen, percent(tube.probability));
}

std::string_view word_of(SeenDissolved seen) {
  return seen == SeenDissolved::All ? "all" : seen == SeenDissolved::Part ? "part" : "none";
}

// A look that is imagined, as a quantity that a number would be.
Json seen_json(std::string_view word) {
  return Json{{"value", std::string(word)}, {"unit", ""}, {"origin", "measured"}};
}

Json tube_json(const ImaginedTube& tube) {
  Json out{{"mass", value_json(tube.mass_mg, "mg", Origin::Assumed)},
           {"volume", value_json(tube.volume_ml, "mL", Origin::Assumed)},
           {"cold", std::string(word_of(tube.cold))}};
  out["hot"] = tube.hot ? Json(std::string(word_of(*tube.hot))) : Json(nullptr);
  out["cooled"] = tube.cooled ? Json("crystals") : Json(nullptr);
  out["probability"] = rounded(tube.probability);
  return out;
}

struct Remedy {
  const char* fact;
  const char* measure;
};
// What can be written into files of ours to make a fact known; the longest beginning of the name that fits counts.
constexpr std::array kRemedies{
    Remedy{"solute.melting_point", "measure the melting point of the purest sample and write `melting_point`"},
    Remedy{"solute.melting_range", "measure the melting range and write `crude_melting_range`"},
    Remedy{"solute.decomposes_at", "heat a little in a melting point tube and write `decomposes_at`"},
    Remedy{"solute.molar_mass", "write `smiles` or `molar_mass`"},
    Remedy{"solute.", "write `smiles`, or `groups` where the structure is not known"},
    Remedy{"solvent.reaction", "write `smiles` or `groups` of the solid"},
    Remedy{"solvent.", "complete the record of the solvent in the file of your solvents"},
    Remedy{"pair.contrast", "complete the records of both solvents, or try both in tubes of 50 mg"},
    Remedy{"pair.", "shake both solvents together, cold and hot, and look for two layers"},
    Remedy{"system.wet_melting_point", "warm some solid under the solvent until it melts and write `wet_melting_point`"},
    Remedy{"system.impurity_held", "name the impurity with its structure and its share"},
    Remedy{"system.flash_point", "complete the record of the solvent"},
    Remedy{"system.freezing_point", "complete the record of the solvent"},
    Remedy{"system.", "complete the record of the solvent (`smiles`, `classes` or `polarity`); until then one tube "
                      "of 50 mg at the bench decides"},
    Remedy{"aim.", "write it under `aim`"},
};

}  // namespace

std::string what_settles(const std::string& fact) {
  for (const Remedy& remedy : kRemedies) {
    if (fact.starts_with(remedy.fact)) return remedy.measure;
  }
  return "one tube of 50 mg decides";
}

std::string words_of(const Change& change, const SystemJudge& judge, const JudgedSystem& judged) {
  if (change.tube) return tube_words(*change.tube);
  if (change.fact == "system.good_fraction") {
    const System from{judged.system.solvents, change.from->value};
    const System to{judged.system.solvents, change.to->value};
    const Library& library = judge.inquiry().knowledge->library;
    const std::string written = spoken_name(from, library);
    return fmt::format("another ratio, {} instead of {}", spoken_name(to, library),
                       written.substr(written.rfind(' ') + 1));
  }
  return change.fact == "aim.bath_temperature" ? bath_words(change) : limit_words(change, judged);
}

std::string changes_text(const std::vector<Change>& changes, const SystemJudge& judge, const JudgedSystem& judged,
                         const Style& style) {
  if (changes.empty()) {
    return wrapped(fmt::format("nothing that was tried: {}a bath from {} to room temperature, another heating limit{}",
                               judged.system.is_pair() ? "another ratio, " : "",
                               show(kColdestBathK, *find_unit("°C")),
                               judged.judgement.excluded ? "" : ", one tube of 50 mg"),
                   2, 4);
  }
  std::string out;
  for (const Change& change : changes) {
    const std::string verdict(name_of(change.verdict));
    std::string line = fmt::format("{} -> {}", words_of(change, judge, judged), style.verdict(change.verdict, verdict));
    if (change.chance) line += fmt::format(", chance {}", percent(*change.chance));
    out += wrapped(line, 2, 4);
  }
  return out;
}

Json changes_json(const std::vector<Change>& changes, const SystemJudge& judge, const JudgedSystem& judged) {
  Json out = Json::array();
  for (const Change& change : changes) {
    const char* unit = change.fact == "system.good_fraction" ? "%" : "°C";
    Json entry{{"fact", change.fact}};
    if (change.tube) {
      const ImaginedTube& tube = *change.tube;
      entry["from"] = nullptr;
      entry["to"] = seen_json(tube.cooled ? "crystals" : word_of(tube.hot.value_or(tube.cold)));
    } else {
      entry["from"] = value_json(change.from->value, unit, Origin::Given);
      entry["to"] = value_json(change.to->value, unit, Origin::Given);
    }
    entry["verdict"] = std::string(name_of(change.verdict));
    entry["chance"] = change.chance ? rounded(*change.chance) : Json(nullptr);
    entry["score"] = change.score ? rounded(*change.score) : Json(nullptr);
    entry["tube"] = change.tube ? tube_json(*change.tube) : Json(nullptr);
    entry["text"] = words_of(change, judge, judged);
    out.push_back(std::move(entry));
  }
  return out;
}

std::string standing_text(const StandingAnswer& answer, const SystemJudge& judge) {
  switch (answer.standing) {
    case Standing::SpokenFor:
      return {};
    case Standing::Excluded:
      return wrapped(fmt::format("Excluded by the rule `{}`: whatever the other rules say cannot outweigh it.", answer.rule),
                     2, 4);
    case Standing::NotSpokenFor: {
      const double least = judge.book().limits().unfit_chance;
      return wrapped(fmt::format("No rule excludes it, but none makes it likely enough: its chance is below {}; `{}` "
                                 "costs most.",
                                 percent(least), answer.rule),
                     2, 4);
    }
    case Standing::Unknown:
      break;
  }
  std::string out = wrapped("Unknown: what is missing decides.", 2, 4);
  for (std::size_t i = 0; i < answer.missing.size(); ++i) {
    out += wrapped(fmt::format("{}{}; {}", answer.missing[i],
                               answer.reasons[i].empty() ? "" : " (" + answer.reasons[i] + ")",
                               what_settles(answer.missing[i])),
                   4, 6);
  }
  return out;
}

Json standing_json(const StandingAnswer& answer) {
  const char* word = answer.standing == Standing::Excluded       ? "excluded"
                     : answer.standing == Standing::NotSpokenFor ? "no-rule-speaks-for-it"
                     : answer.standing == Standing::Unknown      ? "unknown"
                                                                 : "rules-speak-for-it";
  Json missing = Json::array();
  for (std::size_t i = 0; i < answer.missing.size(); ++i) {
    missing.push_back(
        {{"fact", answer.missing[i]}, {"why", answer.reasons[i]}, {"settled_by", what_settles(answer.missing[i])}});
  }
  return Json{{"kind", word}, {"rule", answer.rule.empty() ? Json(nullptr) : Json(answer.rule)}, {"missing", missing}};
}

}  // namespace firstcrop::report
