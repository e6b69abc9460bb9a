#include "structure/elements.hpp"

#include <doctest/doctest.h>

using namespace firstcrop::detail;

TEST_CASE("element symbols lead to atomic numbers only as they are written") {
  CHECK(atomic_number("H") == 1);
  CHECK(atomic_number("Cl") == 17);
  CHECK(atomic_number("Hg") == 80);
  CHECK(atomic_number("Og") == 118);
  CHECK(atomic_number("CL") == 0);
  CHECK(atomic_number("cl") == 0);
  CHECK(atomic_number("X") == 0);
  CHECK(atomic_number("D") == 0);
  CHECK(atomic_number("") == 0);
  CHECK(atomic_number("Uun") == 0);
}

TEST_CASE("only some elements have an aromatic symbol") {
  CHECK(aromatic_atomic_number("n") == 7);
  CHECK(aromatic_atomic_number("se") == 34);
  CHECK(aromatic_atomic_number("f") == 0);
  CHECK(aromatic_atomic_number("N") == 0);
}

TEST_CASE("every element is a metal, a metalloid or a nonmetal, and only one of them") {
  int metals = 0;
  for (int number = 1; number <= 118; ++number) {
    CAPTURE(number);
    const int classes =
        (is_metal(number) ? 1 : 0) + (is_metalloid(number) ? 1 : 0) + (is_nonmetal(number) ? 1 : 0);
    CHECK(classes == 1);
    metals += is_metal(number) ? 1 : 0;
  }
  CHECK(metals == 118 - 8 - 17);
  CHECK_FALSE(is_metal(0));
  CHECK(is_alkali_or_alkaline_earth(11));
  CHECK(is_alkali_or_alkaline_earth(20));
  CHECK_FALSE(is_alkali_or_alkaline_earth(1));
  CHECK_FALSE(is_alkali_or_alkaline_earth(30));
}
