#include "systems/candidates.hpp"

#include "phase/solvent_graph.hpp"

namespace firstcrop {

std::vector<std::pair<SolventId, SolventId>> candidate_pairs(const Shelf& shelf, const Inquiry& inquiry) {
  CandidateRule rule;
  rule.pressure_kpa = inquiry.pressure_kpa;
  rule.heating_limit_k = inquiry.aim.heating_limit_k;
  std::vector<std::pair<SolventId, SolventId>> out;
  for (const CandidatePair& pair : candidate_pairs(inquiry.knowledge->phase, shelf.solvents, rule)) {
    if (inquiry.knowledge->in_model(pair.first) && inquiry.knowledge->in_model(pair.second)) {
      out.emplace_back(pair.first, pair.second);
    }
  }
  return out;
}

}  // namespace firstcrop
