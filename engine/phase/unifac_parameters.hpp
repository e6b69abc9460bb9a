#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace firstcrop {

/// One structural group of modified UNIFAC (Dortmund): R and Q are its volume and surface relative to a CH2
/// standard.
struct UnifacSubgroup {
  int number = 0;
  int main_group = 0;
  double volume_r = 0;
  double surface_q = 0;
  std::string name;
};

/// psi_ij = exp(-(a + b T + c T^2)/T), T in kelvin (Gmehling, Li, Schiller, Ind. Eng. Chem. Res. 1993, 32,
/// 178).
struct GroupInteraction {
  double a_k = 0;
  double b = 0;
  double c_per_k = 0;
  bool completed = false;  ///< not published for this pair: filled in by matrix completion
};

/// The tables as they stand in `solvents/group-contributions.yaml`: blank-separated columns, one row a line.
struct UnifacTables {
  std::string_view groups;     ///< subgroup name main_group main_name r q
  std::string_view published;  ///< main_i main_j a_ij b_ij c_ij a_ji b_ji c_ji
  std::string_view corrected;  ///< same columns: published, but not in the latest revision
  std::string_view completed;  ///< same columns: filled in
};

enum class UnifacTable { Groups, Published, Corrected, Completed };

/// A row that could not be read. Lines count from 1 within their table.
struct UnifacTableFault {
  UnifacTable table = UnifacTable::Groups;
  int line = 0;
  std::string message;
};

/// Group contributions of modified UNIFAC (Dortmund). A cheap value: copies share the tables.
class UnifacParameters {
 public:
  /// Largest number of main groups that a table may have.
  static constexpr int kMaxMainGroups = 64;

  struct Data;
  explicit UnifacParameters(std::shared_ptr<const Data> data);

  /// The subgroup with this number, or null.
  [[nodiscard]] const UnifacSubgroup* subgroup(int number) const;
  /// Interaction of main group `i` with main group `j`; zero for a group with itself, nothing where the
  /// tables have no row for the two.
  [[nodiscard]] std::optional<GroupInteraction> interaction(int main_i, int main_j) const;
  [[nodiscard]] std::size_t subgroup_count() const;
  /// All subgroups by rising number.
  [[nodiscard]] std::vector<UnifacSubgroup> subgroups() const;

 private:
  std::shared_ptr<const Data> data_;
};

struct ParsedUnifac {
  std::optional<UnifacParameters> parameters;  ///< absent where there are faults
  std::vector<UnifacTableFault> faults;
};

/// Reads the four tables. Faults, all of them at once: a wrong number of columns, something that is no
/// number, a subgroup or pair given twice, a pair of a main group that no subgroup has, more than
/// kMaxMainGroups main groups.
[[nodiscard]] ParsedUnifac parse_unifac(const UnifacTables& tables);

}  // namespace firstcrop
