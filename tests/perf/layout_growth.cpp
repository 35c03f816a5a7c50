// How long the sheets of a campus take to lay out, and how the time grows with the number of
// circuits: prints times and exponents, asserts nothing. Boards of twenty ways hang from each other
// in a tree, eight to a board. Files named as arguments are laid out as well.
#include <cmath>
#include <cstdio>
#include <ctime>
#include <fstream>
#include <iterator>
#include <string>

#include <fmt/core.h>

#include "diagram/overview.hpp"
#include "drawing/metrics.hpp"
#include "input/read.hpp"

namespace {

using namespace linewright;

std::string campus(int circuits) {
  constexpr int ways = 20;
  constexpr int fed_by_each = 8;
  const int boards = std::max(1, circuits / ways);
  std::string text =
      "site: {name: Campus, date: 2026-01-01}\n"
      "supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, fuse: 400 A gG}\n"
      "earthing: {main terminal: A1, electrodes: {-XE1: 5 ohm}}\n"
      "types:\n"
      "  lights: {device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² Cu 20 m, load: 0.3 kW}\n"
      "boards:\n";
  for (int board = 1; board <= boards; ++board) {
    text += fmt::format("  +A{0}:\n    name: Board {0}\n    busbar: 63 A\n", board);
    if (board == 1) text += "    feed: [supply, -W1 5×70 mm² Cu 20 m, -Q1 B63 4P]\n";
    text += "    circuits:\n";
    int used = 0;
    for (int fed = fed_by_each * (board - 1) + 2; fed <= fed_by_each * board + 1; ++fed) {
      if (fed > boards) break;
      text += fmt::format(
          "      - {{id: -F{0}.{1}, name: Feed {1}, feeds: +A{1}, device: C63 4P, cable: 5×16 mm² "
          "Cu 20 m}}\n",
          board, fed);
      ++used;
    }
    for (int way = 1; way <= ways - used; ++way)
      text +=
          fmt::format("      - {{type: lights, name: Lights {1}, id: -F{0}.L{1}}}\n", board, way);
  }
  return text;
}

/// What laying out one site took.
struct Cost {
  double milliseconds = 0.0;
  std::size_t sheets = 0;
};

// The best of three, of the processor's time; one is enough for what takes long.
Cost cost_of(const site::Site& site) {
  constexpr double long_enough = 500.0;
  Cost best;
  for (int round = 0; round < 3; ++round) {
    const std::clock_t before = std::clock();
    const diagram::Metrics metrics = drawing::metrics();
    const diagram::Document document = diagram::overview(site, metrics, {});
    const double took =
        1e3 * static_cast<double>(std::clock() - before) / static_cast<double>(CLOCKS_PER_SEC);
    if (round == 0 || took < best.milliseconds) best.milliseconds = took;
    best.sheets = document.sheets.size();
    if (took > long_enough) break;
  }
  return best;
}

void measure_files(int count, char** names) {
  for (int i = 1; i < count; ++i) {
    std::ifstream file(names[i]);
    const std::string text{std::istreambuf_iterator<char>(file), {}};
    const input::Reading reading = input::read_site(text);
    if (!reading.site) continue;
    const Cost cost = cost_of(*reading.site);
    fmt::print("{:9.2f} ms {:4} sheets  {}\n", cost.milliseconds, cost.sheets, names[i]);
  }
}

}  // namespace

int main(int count, char** names) {
  std::setvbuf(stdout, nullptr, _IOLBF, 0);
  measure_files(count, names);
  if (count > 1) return 0;
  fmt::print("circuits        ms  sheets   exponent since the row before\n");
  Cost last;
  for (const int circuits : {100, 300, 1000, 3000, 10000}) {
    const input::Reading reading = input::read_site(campus(circuits));
    if (!reading.site) return 1;
    const Cost cost = cost_of(*reading.site);
    fmt::print("{:8} {:9.1f} {:7}", circuits, cost.milliseconds, cost.sheets);
    if (last.sheets > 0)
      fmt::print("   {:.2f}", std::log(cost.milliseconds / last.milliseconds) /
                                  std::log(circuits >= 10000 || circuits == 1000 ? 10.0 / 3 : 3.0));
    fmt::print("\n");
    last = cost;
  }
  return 0;
}
