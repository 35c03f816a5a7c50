// Five reference layouts, whose positions and bond counts are known for every state (tables A to E
// of the requirement catalogue, section 13). As written no rule of earthing or RCDs may speak; with
// any link or any neutral turned over, one must.
#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <catch2/catch.hpp>

#include "check/run.hpp"
#include "network/neutral_paths.hpp"
#include "rules/registry.hpp"
#include "support/judge.hpp"
#include "support/layout.hpp"
#include "support/reference_layouts.hpp"

namespace linewright::tests {
namespace {

using network::Edge;
using site::Conductor;

/// One row of a table: what stands in each state, in the order of `states`.
template <class Look>
std::string row(const Layout& layout, const std::vector<std::string_view>& states, Look look) {
  std::string cells;
  for (const std::string_view name : states)
    cells += (cells.empty() ? "" : " ") + std::to_string(look(layout.state(name)));
  return cells;
}

std::string counts(const Layout& layout, const std::vector<std::string_view>& states) {
  return row(layout, states, [&](std::size_t s) { return layout.bonds(s); });
}

std::string opens_of_earthing(const Layout& layout) {
  std::string open;
  for (const OpenPoint& point : check::run(layout.now(), rules::all_rules()).open)
    if (point.rule.starts_with("earthing/")) open += point.rule + " ";
  return open;
}

const std::vector<std::string_view> states_a{"grid", "island", "generator", "bypass"};
const std::vector<std::string_view> states_b{"grid", "island", "bypass"};
const std::vector<std::string_view> states_c{"grid", "island", "generator"};
const std::vector<std::string_view> states_d{"grid", "generator"};

TEST_CASE("layout A: positions and bond counts are those of the table in every state") {
  const Layout a(layout_a);
  const std::size_t supply = a.only<site::Supply>();
  const std::size_t split = a.only<site::PenSplit>();
  const std::size_t inverter = a.element("-T1");
  const std::size_t generator = a.element("-G2");
  const std::size_t main = a.only<site::MainEarthingTerminal>();
  const auto bus_has = [&](std::size_t e, std::string_view terminal, Conductor c) {
    return row(a, states_a, [&](std::size_t s) { return a.bus_has(s, e, terminal, c) ? 1 : 0; });
  };
  CHECK(bus_has(supply, "out", Conductor::l1) == "1 0 0 1");
  CHECK(bus_has(split, "2", Conductor::n) == "1 0 0 1");
  CHECK(bus_has(inverter, "backup", Conductor::l1) == "1 1 1 0");
  CHECK(bus_has(inverter, "backup", Conductor::n) == "1 1 1 0");
  const auto link = [&](std::size_t e) {
    return row(a, states_a, [&](std::size_t s) { return a.link_on_bus(s, e) ? 1 : 0; });
  };
  CHECK(link(inverter) == "0 1 0 0");
  CHECK(link(generator) == "0 0 1 0");
  CHECK(link(split) == "1 0 0 1");
  const auto on_main = [&](std::uint32_t other) {
    return row(a, states_a, [&](std::size_t s) {
      return a.now().states[s].joined(a.node(main, "pe", Conductor::pe), other) ? 1 : 0;
    });
  };
  CHECK(on_main(a.node(split, "2", Conductor::pe)) == "1 1 1 1");
  CHECK(on_main(a.node(a.element("-XE1"), "pe", Conductor::pe)) == "1 1 1 1");
  CHECK(row(a, states_a, [&](std::size_t s) {
          return a.guarded(s, [](std::string_view) { return true; }) ? 1 : 0;
        }) == "1 1 1 1");
  CHECK(counts(a, states_a) == "1 1 1 1");
}

TEST_CASE("layout A: as written nothing is wrong with its earthing and its RCDs, nor open") {
  CHECK(Layout(layout_a).speaking().empty());
  CHECK(opens_of_earthing(Layout(layout_a)).empty());
}

TEST_CASE("layout A: any link or neutral turned over is found") {
  const Layout a(layout_a);
  const std::size_t split = a.only<site::PenSplit>();
  for (const std::string_view state : {"grid", "generator", "bypass"}) {
    INFO(state);
    CHECK_FALSE(a.neutral_turned_over(state, "-Q1", "I").empty());
  }
  // In island the inverter's own contact keeps the supply's neutral off the bus, and nothing else.
  CHECK_FALSE(a.neutral_turned_over("island", "-T1", "ac").empty());
  for (const std::string_view state : states_a) {
    INFO(state);
    CHECK_FALSE(a.neutral_turned_over(state, "-Q2", "I").empty());
  }
  for (const std::string_view state : {"grid", "island", "generator"}) {
    INFO(state);
    CHECK_FALSE(a.link_turned_over(state, a.element("-T1")).empty());
  }
  CHECK_FALSE(a.link_added("bypass", a.element("-T1")).empty());
  CHECK_FALSE(a.link_turned_over("generator", a.element("-G2")).empty());
  CHECK_FALSE(a.link_turned_over("grid", split).empty());
  CHECK_FALSE(a.link_turned_over("bypass", split).empty());
}

TEST_CASE("layout A: each turn is told by the rule that knows its cause") {
  const Layout a(layout_a);
  CHECK(a.link_turned_over("island", a.element("-T1")) == "earthing/bond-present-when-islanded");
  CHECK(a.link_turned_over("grid", a.element("-T1")) == "earthing/no-second-bond-while-on-grid");
  CHECK(a.link_turned_over("generator", a.element("-G2")) ==
        "earthing/generator-with-switched-neutral");
}

TEST_CASE("layout A: without the electrode the island leans on the supplier's earth") {
  CHECK(Layout(with(layout_a, ", electrodes: {-XE1: 20 ohm}", "")).speaking() ==
        "earthing/supplier-earth-not-relied-on");
}

TEST_CASE("layout B: positions, earthing kinds and bond counts are those of the table") {
  const Layout b(layout_b);
  const auto kinds = row(b, states_b, [&](std::size_t s) {
    return b.now().states[s].loops.front().return_path == network::ReturnPath::metallic ? 1 : 0;
  });
  CHECK(kinds == "0 1 0");  // TT, TN on the house electrode, TT
  CHECK(row(b, states_b, [&](std::size_t s) {
          return b.guarded(s, [](std::string_view name) { return name == "-F1"; }) ? 1 : 0;
        }) == "1 0 1");
  CHECK(row(b, states_b, [&](std::size_t s) {
          return b.guarded(s, [](std::string_view name) { return name == "-F31"; }) ? 1 : 0;
        }) == "1 1 1");
  CHECK(row(b, states_b,
            [&](std::size_t s) { return b.link_on_bus(s, b.element("-T1")) ? 1 : 0; }) == "0 1 0");
  CHECK(counts(b, states_b) == "1 1 1");
  // Disconnection of a 32 A final circuit, in milliseconds: 0.2 s in TT, 0.4 s in TN.
  CHECK(row(b, states_b, [&](std::size_t s) {
          const bool metal =
              b.now().states[s].loops.front().return_path == network::ReturnPath::metallic;
          const auto longest =
              b.now().profile.time(metal ? "disconnection final TN" : "disconnection final TT");
          REQUIRE(longest);
          return std::lround(1000.0 * longest->si);
        }) == "200 400 200");
}

TEST_CASE("layout B: as written nothing is wrong with its earthing and its RCDs, nor open") {
  CHECK(Layout(layout_b).speaking().empty());
  CHECK(opens_of_earthing(Layout(layout_b)).empty());
}

TEST_CASE("layout B: any link or neutral turned over is found") {
  const Layout b(layout_b);
  const std::size_t supply = b.only<site::Supply>();
  for (const std::string_view state : states_b) {
    INFO(state);
    CHECK_FALSE(b.neutral_turned_over(state, "-Q2", "I").empty());
  }
  for (const std::string_view state : {"grid", "island"}) {
    INFO(state);
    CHECK_FALSE(b.link_turned_over(state, b.element("-T1")).empty());
  }
  for (const std::string_view state : {"grid", "bypass"}) {
    INFO(state);
    CHECK_FALSE(b.neutral_turned_over(state, "-F1", "2").empty());
    CHECK_FALSE(b.neutral_turned_over(state, "-Q1", "2").empty());
    CHECK_FALSE(b.link_turned_over(state, supply).empty());
  }
  CHECK_FALSE(b.link_added("bypass", b.element("-T1")).empty());
  CHECK(b.link_turned_over("grid", b.element("-T1")) ==
        "earthing/no-local-bond-on-tt-while-on-grid");
}

TEST_CASE("layout C: positions and bond counts are those of the table in every state") {
  const Layout c(layout_c);
  const std::size_t split = c.only<site::PenSplit>();
  const std::size_t generator = c.element("-G2");
  CHECK(row(c, states_c, [&](std::size_t s) {
          return c.bus_has(s, c.only<site::Supply>(), "out", Conductor::l1) ? 1 : 0;
        }) == "1 0 0");
  CHECK(row(c, states_c, [&](std::size_t s) {
          return c.bus_has(s, split, "2", Conductor::n) ? 1 : 0;
        }) == "1 1 1");
  CHECK(row(c, states_c, [&](std::size_t s) {
          return c.bus_has(s, generator, "out", Conductor::n) ? 1 : 0;
        }) == "0 0 1");
  CHECK(row(c, states_c, [&](std::size_t s) { return c.link_on_bus(s, split) ? 1 : 0; }) ==
        "1 1 1");
  CHECK(network::bond_edge(c.now().network, c.element("-T1")) == nullptr);
  CHECK(network::bond_edge(c.now().network, generator) == nullptr);
  CHECK(counts(c, states_c) == "1 1 1");
}

TEST_CASE("layout C: as written nothing is wrong with its earthing and its RCDs, nor open") {
  CHECK(Layout(layout_c).speaking().empty());
  CHECK(opens_of_earthing(Layout(layout_c)).empty());
}

TEST_CASE("layout C: any link or neutral turned over is found") {
  const Layout c(layout_c);
  for (const std::string_view state : states_c) {
    INFO(state);
    CHECK_FALSE(c.neutral_turned_over(state, "-T1", "backup").empty());
    CHECK_FALSE(c.neutral_turned_over(state, "-Q1", "2").empty());
    CHECK_FALSE(c.neutral_turned_over(state, "-Q5", "2").empty());
    CHECK_FALSE(c.link_turned_over(state, c.only<site::PenSplit>()).empty());
    CHECK_FALSE(c.link_added(state, c.element("-T1")).empty());
  }
  CHECK(Layout(with(layout_c, "floating", "linked")).speaking() ==
        "earthing/generator-with-common-neutral");
  CHECK(
      Layout(with(layout_c, "neutral in island: joined", "neutral in island: opened")).speaking() ==
      "earthing/neutral-continuity-where-the-country-asks");
}

TEST_CASE("layout D: each source brings its own link, one in every state") {
  const Layout d(with(layout_d, "-F11", "-F31"));
  CHECK(row(d, states_d, [&](std::size_t s) {
          return d.link_on_bus(s, d.only<site::Supply>()) ? 1 : 0;
        }) == "1 0");
  CHECK(row(d, states_d,
            [&](std::size_t s) { return d.link_on_bus(s, d.element("-G2")) ? 1 : 0; }) == "0 1");
  CHECK(network::on_main_terminal(d.now().network, d.now().site, d.element("-XE1")));
  CHECK(counts(d, states_d) == "1 1");
  CHECK(d.speaking().empty());
  CHECK(opens_of_earthing(d).empty());
}

TEST_CASE("layout D: three poles, a missing link, or any neutral turned over is found") {
  const Layout d(layout_d);
  CHECK(Layout(with(layout_d, "63 A 4P", "63 A 3P")).speaking() ==
        "earthing/neutral-poles-of-the-transfer");
  CHECK(Layout(with(layout_d, "linked", "floating")).speaking() ==
        "earthing/generator-with-switched-neutral");
  for (const std::string_view state : states_d) {
    INFO(state);
    CHECK_FALSE(d.neutral_turned_over(state, "-Q1", "I").empty());
    CHECK_FALSE(d.neutral_turned_over(state, "-Q1", "II").empty());
  }
  CHECK_FALSE(d.link_turned_over("grid", d.only<site::Supply>()).empty());
  CHECK_FALSE(d.link_turned_over("generator", d.element("-G2")).empty());
}

TEST_CASE("layout D: the three-pole changeover makes two bonds, the missing link none") {
  CHECK(counts(Layout(with(layout_d, "63 A 4P", "63 A 3P")), states_d) == "2 2");
  CHECK(counts(Layout(with(layout_d, "linked", "floating")), states_d) == "1 0");
}

TEST_CASE("layout E: one link on a common neutral in both states, and no earthing rule speaks") {
  const Layout e(layout_e());
  CHECK(counts(e, states_d) == "1 1");
  CHECK(e.speaking().empty());
  CHECK(opens_of_earthing(e).empty());
  for (const std::string_view profile : {"GB", "DE", "FR"}) {
    INFO(profile);
    CHECK(rules_broken(report_on(layout_e(), profile)) ==
          "transfer/all-live-conductors-isolated-from-grid");
  }
}

TEST_CASE("layout E: a factory link, or a neutral opened, is found") {
  const Layout linked(with(layout_e(), "floating", "linked"));
  CHECK(counts(linked, states_d) == "2 2");
  CHECK(linked.speaking() == "earthing/neutral-poles-of-the-transfer");
  CHECK(Layout(with(layout_e(), "floating", "linked"), "NZ").speaking() ==
        "earthing/generator-with-common-neutral");
  const Layout e(layout_e());
  for (const std::string_view state : states_d) {
    INFO(state);
    CHECK_FALSE(e.neutral_turned_over(state, "-Q1", "I").empty());
    CHECK_FALSE(e.link_turned_over(state, e.only<site::Supply>()).empty());
  }
  CHECK_FALSE(e.neutral_turned_over("generator", "-Q1", "II").empty());
}

}  // namespace
}  // namespace linewright::tests
