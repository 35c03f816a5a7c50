#include "geometry/nasty_sites.hpp"

#include <random>

#include <fmt/core.h>

namespace linewright::tests::geometry {
namespace {

/// The engine's sequence is fixed by the standard, that of the distributions is not.
struct Chance {
  std::mt19937 engine;
  int upto(int most) { return static_cast<int>(engine() % static_cast<unsigned>(most + 1)); }
};

constexpr const char* head =
    "site: {name: Nasty site, owner: Nobody (invented), drawing: N-1, date: 2026-01-01, "
    "revisions: [{index: A, date: 2026-01-01, change: First issue}]}\n"
    "supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, fault current: 1.8 kA to 6 kA, "
    "fuse: 100 A gG}\n"
    "earthing: {main terminal: A1, electrodes: {-XE1: 38 ohm}}\n";

std::string long_name(Chance& chance) {
  const char* const parts[] = {"Refrigerated",   "underground",  "Maschinenhalle", "ventilation",
                               "Wärmepumpe",     "distribution", "Treppenhaus",    "unbroken",
                               "reconditioning", "Gewächshaus"};
  std::string name;
  while (name.size() < 26)
    name += (name.empty() ? "" : " ") + std::string(parts[chance.upto(9)]);
  return name;
}

std::string circuit(Chance& chance, int number, const std::string& name, int indent = 6) {
  const char* const devices[] = {"B16 4P 30 mA type A 6 kA", "C20 4P 30 mA type B 6 kA",
                                 "C32 4P 6 kA", "B10 1P+N 30 mA type A"};
  return fmt::format(
      "{}- {{id: -F{}, name: '{}', device: {}, cable: {}×2.5 mm² Cu {} m, load: {} "
      "kW}}\n",
      std::string(static_cast<std::size_t>(indent), ' '), number, name, devices[chance.upto(3)], 5,
      4 + chance.upto(90), 1 + chance.upto(10));
}

std::string board(const std::string& id, const std::string& name, const std::string& feed) {
  return fmt::format("  +{}:\n    name: '{}'\n    busbar: 63 A\n    feed: {}\n", id, name, feed);
}

constexpr const char* main_feed =
    "[supply, -W1 5×16 mm² Cu 4 m, -P1 meter two-way, -Q10 switch-disconnector 100 A 4P]";

std::string long_names(Chance& chance) {
  std::string text = std::string(head) + "boards:\n" + board("A1", long_name(chance), main_feed) +
                     "    circuits:\n";
  const int count = 2 + chance.upto(7);
  for (int i = 0; i < count; ++i)
    text += circuit(chance, 100 + i, long_name(chance));
  const int boards = 1 + chance.upto(3);
  for (int b = 0; b < boards; ++b) {
    text += board(fmt::format("A{}", 2 + b), long_name(chance),
                  fmt::format("[A1, -F{0} C32 4P, -W{0} 5×6 mm² Cu 5 m]", 60 + b)) +
            "    circuits:\n";
    for (int i = 0; i <= chance.upto(5); ++i)
      text += circuit(chance, 200 + 100 * b + i, long_name(chance));
  }
  return text;
}

std::string eighty_feeders(Chance& chance) {
  std::string text =
      std::string(head) + "boards:\n" + board("A1", "Main board", main_feed) + "    circuits:\n";
  for (int i = 0; i < 80; ++i)
    text += circuit(chance, 100 + i, fmt::format("Feeder {}", i + 1));
  return text;
}

std::string many_inverters(Chance& chance) {
  const int count = 5 + chance.upto(3);
  std::string text = std::string(head) + "generators: {-G2: {power: 60 kVA, neutral: linked}}\n";
  text += "inverters:\n";
  for (int i = 1; i <= count; ++i)
    text += fmt::format(
        "  -T{0}: {{kind: hybrid, backup side: yes, power: 10 kVA, bond: none, pv: {{id: -E{0}, "
        "strings: 2, power: 4.9 kWp, chain: [-Q2{0} disconnector 25 A 2P]}}, battery: {{id: -B{0}, "
        "energy: 10.2 kWh, chain: [-F3{0} fuse-switch 40 A 2P]}}}}\n",
        i);
  text +=
      "panel:\n  id: +A2\n  name: Panel\n  interior: two sources with bypass\n  generator: [-G2, "
      "-F9 C63 4P, -W9 5×16 mm² Cu 18 m]\n  grid: [A1, -F20 C63 4P, -W2 5×16 mm² Cu 9 m]\n"
      "  inverters:\n";
  for (int i = 1; i <= count; ++i)
    text += fmt::format(
        "    -T{0}: {{in: [-F4{0} C20 4P, -W1{0} 5×6 mm² Cu 6 m], out: [-W4{0} 5×6 mm² Cu 6 m, "
        "-F5{0} C20 4P]}}\n",
        i);
  text += "boards:\n" + board("A1", "Main board", main_feed) + "    circuits:\n";
  for (int i = 0; i <= chance.upto(4); ++i)
    text += circuit(chance, 100 + i, "Sockets");
  text += board("A3", "Backed up", "[A2, -F60 C63 4P, -W60 5×16 mm² Cu 5 m]") + "    circuits:\n";
  for (int i = 0; i <= chance.upto(6); ++i)
    text += circuit(chance, 200 + i, "Lights");
  return text;
}

std::string five_deep(Chance& chance) {
  std::string text =
      std::string(head) + "boards:\n" + board("A1", "Main board", main_feed) + "    circuits:\n";
  text += circuit(chance, 100, "Sockets");
  for (int depth = 2; depth <= 6; ++depth) {
    text += board(fmt::format("A{}", depth), fmt::format("Level {}", depth),
                  fmt::format("[A{0}, -F6{0} C32 4P, -W6{0} 5×6 mm² Cu 5 m, -Q6{0} "
                              "switch-disconnector 63 A 4P]",
                              depth - 1)) +
            "    circuits:\n";
    for (int i = 0; i <= chance.upto(5); ++i)
      text += circuit(chance, 100 * depth + i, fmt::format("Load {}", i));
  }
  return text;
}

std::string empty_parts(Chance& chance) {
  std::string text =
      std::string(head) + "boards:\n" + board("A1", "Main board", main_feed) + "    circuits:\n";
  text += "      - group: -F110 RCD 63 A 4P 30 mA type A\n        circuits: []\n";
  text += circuit(chance, 100, "Sockets");
  for (int b = 0; b <= 1 + chance.upto(4); ++b)
    text += board(fmt::format("A{}", 2 + b), "",
                  fmt::format("[A1, -F{0} C32 4P, -W{0} 5×6 mm² Cu 5 m]", 60 + b)) +
            "    circuits: []\n";
  return text;
}

}  // namespace

std::string nasty_site(unsigned seed) {
  Chance chance{std::mt19937(seed)};
  switch (seed % 5) {
    case 0:
      return long_names(chance);
    case 1:
      return eighty_feeders(chance);
    case 2:
      return many_inverters(chance);
    case 3:
      return five_deep(chance);
    default:
      return empty_parts(chance);
  }
}

}  // namespace linewright::tests::geometry
