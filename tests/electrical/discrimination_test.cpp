#include "electrical/discrimination.hpp"

#include <limits>

#include <catch2/catch.hpp>

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;

TEST_CASE("discrimination: breakers only as far as a maker has published") {
  CHECK(discriminates(1.5 * kiloampere, 1.5 * kiloampere) == Judgement::holds);
  CHECK(discriminates(1.5 * kiloampere, 1.6 * kiloampere) == Judgement::fails);
  CHECK(discriminates(std::nullopt, 10.0 * ampere) == Judgement::unknown);
  CHECK(discriminates(1.5 * kiloampere, std::nullopt) == Judgement::unknown);
  CHECK(discriminates(Current{std::numeric_limits<double>::infinity()}, 50.0 * kiloampere) ==
        Judgement::holds);
}

TEST_CASE("discrimination: fuses by their ratio") {
  const auto fuses = [](double up, double down) {
    return fuses_discriminate(up * ampere, down * ampere);
  };
  CHECK(fuses(63, 35) == Judgement::holds);
  CHECK(fuses(100, 63) == Judgement::holds);
  CHECK(fuses(50, 32) == Judgement::unknown);
  CHECK(fuses(25, 10) == Judgement::unknown);
  CHECK(fuses(35, 35) == Judgement::fails);
  CHECK(fuses_discriminate(std::nullopt, 35.0 * ampere) == Judgement::unknown);
}
