#include "structure/elements.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace firstcrop::detail {
namespace {

constexpr std::array<std::string_view, 118> kSymbols = {
    "H",  "He", "Li", "Be", "B",  "C",  "N",  "O",  "F",  "Ne", "Na", "Mg", "Al", "Si", "P",  "S",  "Cl",
    "Ar", "K",  "Ca", "Sc", "Ti", "V",  "Cr", "Mn", "Fe", "Co", "Ni", "Cu", "Zn", "Ga", "Ge", "As", "Se",
    "Br", "Kr", "Rb", "Sr", "Y",  "Zr", "Nb", "Mo", "Tc", "Ru", "Rh", "Pd", "Ag", "Cd", "In", "Sn", "Sb",
    "Te", "I",  "Xe", "Cs", "Ba", "La", "Ce", "Pr", "Nd", "Pm", "Sm", "Eu", "Gd", "Tb", "Dy", "Ho", "Er",
    "Tm", "Yb", "Lu", "Hf", "Ta", "W",  "Re", "Os", "Ir", "Pt", "Au", "Hg", "Tl", "Pb", "Bi", "Po", "At",
    "Rn", "Fr", "Ra", "Ac", "Th", "Pa", "U",  "Np", "Pu", "Am", "Cm", "Bk", "Cf", "Es", "Fm", "Md", "No",
    "Lr", "Rf", "Db", "Sg", "Bh", "Hs", "Mt", "Ds", "Rg", "Cn", "Nh", "Fl", "Mc", "Lv", "Ts", "Og"};

/// Atomic numbers by first and second letter (second 0: none), so that symbols are found without a search.
using LetterTable = std::array<std::array<int, 27>, 26>;

constexpr LetterTable letter_table() {
  LetterTable table{};
  int number = 0;
  for (const std::string_view symbol : kSymbols) {
    const auto first = static_cast<std::size_t>(symbol[0] - 'A');
    const auto second = symbol.size() > 1 ? static_cast<std::size_t>(symbol[1] - 'a') + 1 : 0;
    table[first][second] = ++number;
  }
  return table;
}

constexpr LetterTable kAtomicNumbers = letter_table();

template <std::size_t Size>
bool holds(const std::array<int, Size>& numbers, int number) {
  return std::find(numbers.begin(), numbers.end(), number) != numbers.end();
}

}  // namespace

int atomic_number(std::string_view symbol) {
  if (symbol.empty() || symbol.size() > 2 || symbol[0] < 'A' || symbol[0] > 'Z') return 0;
  if (symbol.size() == 2 && (symbol[1] < 'a' || symbol[1] > 'z')) return 0;
  const auto first = static_cast<std::size_t>(symbol[0] - 'A');
  const auto second = symbol.size() == 2 ? static_cast<std::size_t>(symbol[1] - 'a') + 1 : 0;
  return kAtomicNumbers[first][second];
}

int aromatic_atomic_number(std::string_view symbol) {
  struct Entry {
    std::string_view symbol;
    int number;
  };
  constexpr std::array<Entry, 10> kAromatic = {{{"c", 6},
                                                {"n", 7},
                                                {"o", 8},
                                                {"s", 16},
                                                {"p", 15},
                                                {"b", 5},
                                                {"se", 34},
                                                {"as", 33},
                                                {"si", 14},
                                                {"te", 52}}};
  const auto* const found = std::find_if(kAromatic.begin(), kAromatic.end(),
                                         [symbol](const Entry& entry) { return entry.symbol == symbol; });
  return found == kAromatic.end() ? 0 : found->number;
}

bool is_nonmetal(int atomic_number) {
  constexpr std::array<int, 17> kNonmetals = {1, 2, 6, 7, 8, 9, 10, 15, 16, 17, 18, 34, 35, 36, 53, 54, 86};
  return holds(kNonmetals, atomic_number);
}

bool is_metalloid(int atomic_number) {
  constexpr std::array<int, 8> kMetalloids = {5, 14, 32, 33, 51, 52, 84, 85};
  return holds(kMetalloids, atomic_number);
}

bool is_alkali_or_alkaline_earth(int atomic_number) {
  constexpr std::array<int, 12> kNumbers = {3, 4, 11, 12, 19, 20, 37, 38, 55, 56, 87, 88};
  return holds(kNumbers, atomic_number);
}

}  // namespace firstcrop::detail
