#include "diagram/made_sites.hpp"

#include <algorithm>
#include <random>
#include <vector>

#include <fmt/core.h>

namespace linewright::tests {
namespace {

/// Numbers by chance that are the same on every machine: only the engine is used, whose sequence
/// the standard fixes, not the distributions, whose sequence it leaves open.
struct Chance {
  std::mt19937 engine;

  int upto(int most) { return static_cast<int>(engine() % static_cast<unsigned>(most + 1)); }
  bool often() { return upto(2) > 0; }
  const std::string& pick(const std::vector<std::string>& list) {
    return list[static_cast<std::size_t>(upto(static_cast<int>(list.size()) - 1))];
  }
};

const std::vector<std::string> names{"Lights",        "Sockets kitchen",
                                     "Boiler",        "Water heater with a long name indeed",
                                     "Freezer",       "Garage door and lights",
                                     "Pump",          "Workshop, three-phase machines",
                                     "Ümlaut δοκιμή", "Cold store",
                                     "Network",       "Heat pump"};

std::string circuit(Chance& chance, int number) {
  const std::vector<std::string> devices{"B16 4P 30 mA type A 6 kA", "C20 4P 30 mA type B 6 kA",
                                         "C32 4P 6 kA", "B10 4P 300 mA type A S"};
  return fmt::format(
      "      - {{id: -F{}, name: '{}', device: {}, cable: 5×{} mm² Cu {} m, load: {} kW}}\n",
      number, chance.pick(names), chance.pick(devices), chance.pick({"1.5", "2.5", "10"}),
      4 + chance.upto(90), 1 + chance.upto(10));
}

std::string circuits(Chance& chance, int board, int count) {
  std::string text;
  int number = 100 * board;
  const bool grouped = count > 3 && chance.upto(3) == 0;
  if (grouped) {
    text +=
        fmt::format("      - group: -F{} RCD 63 A 4P 30 mA type A\n        circuits:\n", ++number);
    for (int i = 0; i < 3; ++i)
      text += "    " + circuit(chance, ++number);
  }
  for (int i = grouped ? 3 : 0; i < count; ++i)
    text += circuit(chance, ++number);
  return text;
}

std::string inverter(Chance& chance, int number, bool backup) {
  std::string text =
      fmt::format("  -T{0}:\n    kind: hybrid\n    backup side: {1}\n    power: 10 kVA\n", number,
                  backup ? "yes" : "no");
  text += "    bond: " + chance.pick({"closes in island", "none", "stays open"}) + "\n";
  const int arrays = 1 + chance.upto(1);
  text += "    pv: [";
  for (int i = 0; i < arrays; ++i)
    text += fmt::format(
        "{}{{id: -E{}{}, strings: 2, power: 4.9 kWp, chain: [-Q{}{} disconnector 25 A "
        "2P, -WD{}{} 2×6 mm² Cu 12 m]}}",
        i > 0 ? ", " : "", number, i, 20 + number, i, number, i);
  text += "]\n";
  text += fmt::format(
      "    battery: {{id: -B{0}, energy: 10.2 kWh, voltage: 350 V to 450 V, chain: "
      "[-F3{0} fuse-switch 40 A 2P]}}\n",
      number);
  return text;
}

std::string panel(Chance& chance, int inverters, bool generator) {
  std::string text =
      "panel:\n  id: +A2\n  name: " + chance.pick({"Panel", "Transfer panel of the house"}) + "\n";
  text += generator ? "  interior: two sources with bypass\n  generator: [-G2, -F9 C25 4P, -W9 5×6 "
                      "mm² Cu 18 m]\n"
                    : "  interior: one source with bypass\n";
  text += "  grid: [A1, -F20 C40 4P, -W2 5×10 mm² Cu 9 m]\n  inverters:\n";
  for (int i = 1; i <= inverters; ++i)
    text += fmt::format(
        "    -T{0}: {{in: [-F2{0} C20 4P, -W1{0} 5×6 mm² Cu 6 m], out: [-W4{0} 5×6 mm² "
        "Cu 6 m, -F5{0} C20 4P]}}\n",
        i);
  return text;
}

std::string board(Chance& chance, int number, const std::string& feed, int count) {
  std::string text = fmt::format("  +A{}:\n    name: '{}'\n    busbar: 63 A\n", number,
                                 chance.pick({"Board", "Board, backed up, upper floor", "Stable"}));
  if (!feed.empty()) text += "    feed: " + feed + "\n";
  return text + "    circuits:\n" + circuits(chance, number, count);
}

}  // namespace

std::string made_site(unsigned seed) {
  Chance chance{std::mt19937(seed)};
  const int inverters = chance.upto(4);
  const bool generator = chance.often();
  const bool meter = chance.often();
  std::string text =
      "site: {name: Made site, owner: Nobody (invented), drawing: M-1, date: 2026-01-01, "
      "revisions: [{index: A, date: 2026-01-01, change: First issue}]}\n"
      "supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TT, fault current: 1.8 kA to 6 kA, "
      "fuse: 63 A gG}\n"
      "earthing: {main terminal: A1, electrodes: {-XE1: 38 ohm}}\n";
  if (generator && inverters > 0) text += "generators: {-G2: {power: 15 kVA, neutral: linked}}\n";
  if (inverters > 0) text += "inverters:\n";
  for (int i = 1; i <= inverters; ++i)
    text += inverter(chance, i, true);
  if (inverters > 0) text += panel(chance, inverters, generator);
  text += "boards:\n";
  text +=
      board(chance, 1,
            std::string("[supply, -W1 4×16 mm² Cu 4 m, ") + (meter ? "-P1 meter two-way, " : "") +
                "-Q10 switch-disconnector 63 A 4P, -F1 RCD 63 A 4P 300 mA type B S]",
            1 + chance.upto(seed % 7 == 0 ? 40 : 6));
  const int boards = chance.upto(seed % 5 == 0 ? 9 : 3);
  for (int b = 0; b < boards; ++b) {
    const bool backed = inverters > 0 && chance.often();
    const std::string from = backed ? "A2" : b > 2 && chance.often() ? "A5" : "A1";
    const std::string isolator =
        chance.often() ? fmt::format(", -Q{} switch-disconnector 63 A 4P", 60 + b) : "";
    text += board(
        chance, 5 + b,
        fmt::format("[{}, -F{} C32 4P, -W{} 5×6 mm² Cu 5 m{}]", from, 60 + b, 60 + b, isolator),
        1 + chance.upto(12));
  }
  return text;
}

}  // namespace linewright::tests
