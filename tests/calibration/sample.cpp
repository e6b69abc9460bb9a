#include "sample.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <utility>

#include "structure/text_hash.hpp"

namespace firstcrop {

Sample make_sample(const CalibrationTable& table, bool with_doubtful,
                   const std::function<bool(const CalibrationSolid&)>& wanted) {
  struct Values {
    std::vector<double> levels;
    std::vector<double> enthalpies;
  };
  std::map<std::pair<std::size_t, std::string>, Values> groups;
  for (const CalibrationCurve& curve : table.curves) {
    if (!curve.level || (curve.doubtful && !with_doubtful) || !wanted(table.solids[curve.solid])) continue;
    Values& values = groups[{curve.solid, curve.solvent}];
    values.levels.push_back(*curve.level);
    if (curve.enthalpy_kj_mol) values.enthalpies.push_back(*curve.enthalpy_kj_mol);
  }
  Sample sample;
  std::optional<std::size_t> last;
  for (const auto& [key, values] : groups) {
    if (last != key.first) {
      sample.solids.push_back(table.solids[key.first]);
      last = key.first;
    }
    SampleCell cell{sample.solids.size() - 1, table.solvent_index(key.second), median(values.levels),
                    std::nullopt};
    if (!values.enthalpies.empty()) cell.enthalpy_kj_mol = median(values.enthalpies);
    sample.cells.push_back(cell);
  }
  return sample;
}

int fold_of(const CalibrationSolid& solid) {
  return static_cast<int>(fnv1a_32(solid.canonical_smiles_without_stereo) % kFoldCount);
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

}  // namespace firstcrop
