#include "electrical/breaker.hpp"

#include <cmath>

#include "electrical/disconnection.hpp"
#include "electrical/near.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;
using linewright::testing::near;

TEST_CASE("breaker: loop impedances of a printed table, B C D, 0.95 of 230 V") {
  // BS 7671:2018 Table 41.3 (from memory), two decimals.
  struct Line {
    double rated, b, c, d;
  };
  for (const Line& line :
       {Line{6, 7.28, 3.64, 1.82}, Line{10, 4.37, 2.19, 1.09}, Line{16, 2.73, 1.37, 0.68},
        Line{20, 2.19, 1.09, 0.55}, Line{25, 1.75, 0.87, 0.44}, Line{32, 1.37, 0.68, 0.34},
        Line{40, 1.09, 0.55, 0.27}, Line{50, 0.87, 0.44, 0.22}, Line{63, 0.69, 0.35, 0.17}}) {
    for (const auto& [kind, ohms] : {std::pair{Characteristic::b, line.b},
                                     {Characteristic::c, line.c},
                                     {Characteristic::d, line.d}}) {
      const Current ia = instantaneous_band(kind, line.rated * ampere).most;
      CHECK(std::abs(highest_loop_impedance(0.95, 230.0 * volt, ia).in(ohm)-ohms) <= 0.0051);
    }
  }
}

TEST_CASE("breaker: the gates, each side") {
  const auto at = [](Characteristic kind, double rated, double fault) {
    return *breaker_time(kind, rated * ampere, fault * ampere);
  };
  CHECK(at(Characteristic::b, 16, 80).most == 0.1 * second);
  CHECK(at(Characteristic::b, 16, 79.9).most == 45.0 * second);
  CHECK(at(Characteristic::b, 16, 48).least == 0.1 * second);
  CHECK(at(Characteristic::b, 16, 48.1).least == 0.0 * second);
  CHECK(at(Characteristic::c, 40, 200).most == 30.0 * second);
  CHECK(at(Characteristic::d, 16, 100).most == 60.0 * second);
  CHECK(at(Characteristic::c, 16, 16 * 2.55).least == 1.0 * second);
  CHECK(at(Characteristic::c, 16, 16 * 1.45).most == 1.0 * hour);
  CHECK(at(Characteristic::c, 80, 80 * 1.45).most == 2.0 * hour);
  CHECK(std::isinf(at(Characteristic::c, 16, 16 * 1.44).most.si));
  CHECK(at(Characteristic::c, 16, 16 * 1.13).least == 1.0 * hour);
  CHECK(!breaker_time(Characteristic::c, 126.0 * ampere, 1.0 * kiloampere));
  CHECK(!breaker_time(Characteristic::c, 0.0 * ampere, 1.0 * kiloampere));
}

TEST_CASE("breaker: more current never takes longer, and least is never above most") {
  for (const Characteristic kind : {Characteristic::b, Characteristic::c, Characteristic::d}) {
    for (const double rated : {6.0, 32.0, 40.0, 100.0}) {
      Bounds<Time> before = *breaker_time(kind, rated * ampere, 0.0 * ampere);
      for (double multiple = 0.1; multiple < 25; multiple += 0.1) {
        const auto here = *breaker_time(kind, rated * ampere, multiple * rated * ampere);
        CHECK(here.least <= here.most);
        CHECK(here.least <= before.least);
        CHECK(here.most <= before.most);
        before = here;
      }
    }
  }
}

TEST_CASE("breaker: a C32 on an island of 5 kVA is not tripped at once") {
  // dc-side figures: 22 A rated, twice that for a moment: 44 A, against 320 A.
  CHECK(breaker_time(Characteristic::c, 32.0 * ampere, 44.0 * ampere)->most > 0.4 * second);
}
