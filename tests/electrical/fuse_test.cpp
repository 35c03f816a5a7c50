#include "electrical/fuse.hpp"

#include <cmath>

#include "electrical/near.hpp"
#include "electrical/table.hpp"

using namespace linewright;
using namespace linewright::electrical;
using namespace linewright::unit;

TEST_CASE("fuse: the gates rise with the rating and stand in order") {
  Row before;
  int lines = 0;
  for (const Row& row : table("electrical/fuse_gg.csv")) {
    REQUIRE(row.size() == 7);
    if (!number(row[0])) continue;
    ++lines;
    for (std::size_t i = 0; i < row.size() && !before.empty(); ++i) {
      if (number(row[i]) && number(before[i])) CHECK(*number(row[i]) > *number(before[i]));
    }
    if (number(row[1])) {
      CHECK(*number(row[1]) < *number(row[2]));
      CHECK(*number(row[2]) < *number(row[4]));
      CHECK(*number(row[3]) < *number(row[4]));
      // The curves lie within the gates.
      CHECK(*number(row[6]) >= *number(row[1]));
      CHECK(*number(row[6]) <= *number(row[2]));
    }
    before = row;
  }
  CHECK(lines == 14);
}

TEST_CASE("fuse: a test set's manual prints 0.8 of 230 V over the curves' currents") {
  // 16 A: 2.048 ohm (0.4 s), 3.344 ohm (5 s); 32 A: 0.832, 1.472 ohm. Rounded to the curve: 1 %.
  const auto printed = [](double rated, ClearingTime time) {
    return 0.8 * 230.0 / bs_88_2_current(rated * ampere, time)->in(ampere);
  };
  CHECK(printed(16, ClearingTime::four_tenths) == Approx(2.048).epsilon(0.01));
  CHECK(printed(16, ClearingTime::five_seconds) == Approx(3.344).epsilon(0.01));
  CHECK(printed(32, ClearingTime::four_tenths) == Approx(0.832).epsilon(0.01));
  CHECK(printed(32, ClearingTime::five_seconds) == Approx(1.472).epsilon(0.01));
  CHECK(!bs_88_2_current(100.0 * ampere, ClearingTime::four_tenths));
}

TEST_CASE("fuse: times of any make, each side of the gates") {
  const auto at = [](double fault) { return *fuse_time(32.0 * ampere, fault * ampere); };
  CHECK(at(350).most == 0.1 * second);
  CHECK(at(349).most == 5.0 * second);
  CHECK(at(150).most == 5.0 * second);
  CHECK(std::isinf(at(149).most.si));
  CHECK(at(75).least == 10.0 * second);
  CHECK(at(76).least == 0.1 * second);
  CHECK(at(201).least == 0.0 * second);
  CHECK(!fuse_time(10.0 * ampere, 1.0 * kiloampere));
  CHECK(!fuse_time(17.0 * ampere, 1.0 * kiloampere));
}
