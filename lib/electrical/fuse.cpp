#include "electrical/fuse.hpp"

#include <limits>

#include <fmt/core.h>

#include "electrical/table.hpp"

namespace linewright::electrical {
namespace {

Result<Current> current(Current rated, std::size_t column) {
  static const std::vector<Row> rows = table("electrical/fuse_gg.csv");
  for (const Row& row : rows) {
    if (number(row[0]) != rated.in(unit::ampere)) continue;
    if (const auto amperes = number(row[column])) return *amperes * unit::ampere;
  }
  return fail(
      fmt::format("there is no such current for a gG link of {:g} A", rated.in(unit::ampere)));
}

}  // namespace

Result<Bounds<Time>> fuse_time(Current rated, Current fault) {
  const auto min_10 = current(rated, 1);
  const auto max_5 = current(rated, 2);
  const auto min_01 = current(rated, 3);
  const auto max_01 = current(rated, 4);
  if (!min_10 || !max_5 || !min_01 || !max_01) return tl::unexpected(max_5.error());
  if (!(fault.si >= 0.0)) return fail("a current is not below 0");
  Bounds<Time> time{{}, {std::numeric_limits<double>::infinity()}};
  if (fault >= *max_5) time.most = 5.0 * unit::second;
  if (fault >= *max_01) time.most = 0.1 * unit::second;
  if (fault <= *min_01) time.least = 0.1 * unit::second;
  if (fault <= *min_10) time.least = 10.0 * unit::second;
  return time;
}

Result<Current> bs_88_2_current(Current rated, ClearingTime time) {
  return current(rated, time == ClearingTime::four_tenths ? 5 : 6);
}

}  // namespace linewright::electrical
