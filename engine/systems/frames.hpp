#pragma once

#include <memory>
#include <string>
#include <vector>

#include "facts/fact_frame.hpp"
#include "facts/fact_graph.hpp"
#include "systems/inquiry.hpp"

namespace firstcrop {

/// Lays out the frames of systems: facts of the solid, the aim and the solvents are made once and shared,
/// facts that follow from the choice of solvents and ratio are filled in.
class FrameMaker {
 public:
  /// Both must outlive it.
  FrameMaker(const Catalogue& catalogue, const Inquiry& inquiry);

  /// Frame of a system; of a pair the good solvent must stand first.
  [[nodiscard]] FactFrame frame_for(const System& system) const;
  /// Gives the frame of a pair another ratio: all facts that depend on it and on nothing else are set anew.
  void set_first_fraction(FactFrame& frame, System& system, double first_fraction) const;
  /// A producer that owns every fact that frame_for fills in, so that no rule can derive it a second time.
  [[nodiscard]] Producer owner() const;

 private:
  using Shared = std::shared_ptr<const FactValue>;
  struct NamedValue {
    FactReference reference;
    Shared value;
  };
  void add_solute_facts();
  void add_aim_facts();
  [[nodiscard]] std::vector<NamedValue> solvent_facts(SolventId solvent) const;
  void add_pair_facts(FactFrame& frame, const System& system) const;
  void add_system_facts(FactFrame& frame, const System& system) const;
  [[nodiscard]] FactReference fact(const char* name) const;

  const Catalogue* catalogue_;
  const Inquiry* inquiry_;
  std::vector<NamedValue> common_;
  std::vector<std::vector<NamedValue>> by_solvent_;  ///< by solvent of the library
};

/// The solvents and the ratio that a frame was laid out for.
[[nodiscard]] System system_of(const FactFrame& frame, const Library& library);

/// Hazard codes with their base codes: H360FD counts as H360 too.
[[nodiscard]] std::vector<std::string> with_base_codes(const std::vector<std::string>& codes);

}  // namespace firstcrop
