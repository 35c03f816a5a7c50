// Transitions worked out by hand: each step with what the contacts do there.
#include "network/transitions.hpp"

#include <algorithm>

#include <catch2/catch.hpp>

#include "support/judge.hpp"
#include "support/site_from.hpp"

namespace linewright::tests {
namespace {

using network::Closed;
using network::Event;
using network::HazardKind;
using network::Step;
using network::StepKind;
using network::Transition;

/// A site with all its transitions.
struct Run {
  explicit Run(std::string_view yaml)
      : site(site_from(yaml)),
        motion(network::with_motion(network::build(site), site)),
        all(network::transitions(motion, site)) {}

  const Transition& between(std::string_view from, std::string_view to) const {
    for (const Transition& each : all)
      if (each.to != site::none && site.states[each.from].name == from &&
          site.states[each.to].name == to)
        return each;
    FAIL("no such transition");
    return all.front();
  }
  const Transition& on(Event event, std::string_view from) const {
    for (const Transition& each : all)
      if (each.event == event && site.states[each.from].name == from) return each;
    FAIL("no such event");
    return all.front();
  }
  std::vector<std::string> words(const Transition& transition) const {
    std::vector<std::string> words;
    for (const Step& step : transition.steps)
      words.push_back(network::words_of(motion, site, step));
    return words;
  }
  bool hazard(const Step& step, HazardKind kind) const {
    const auto found = network::hazards_in(motion.network, site, step.situation, {});
    return std::ranges::any_of(
        found, [&](const network::Hazard& it) { return it.kind == kind && it.sure; });
  }
  /// Whether the pole of that conductor is closed at the step; of a changeover, any of its throws.
  bool closed(const Step& step, std::string_view device, site::Conductor c) const {
    const int by = motion.network.find_switch(site.find(device));
    return std::ranges::any_of(motion.network.edges, [&](const network::Edge& edge) {
      return edge.by == by && edge.conductor == c &&
             network::closed(edge, step.situation.positions) == Closed::yes;
    });
  }
  std::string stands(const Step& step, std::string_view element, std::string_view part = "") const {
    const int by = motion.network.find_switch(site.find(element), part);
    const auto& it = motion.network.switches[static_cast<std::size_t>(by)];
    return it.positions[static_cast<std::size_t>(
        step.situation.positions.of[static_cast<std::size_t>(by)])];
  }

  site::Site site;
  network::MotionNetwork motion;
  std::vector<Transition> all;
};

using Words = std::vector<std::string>;

constexpr const char* two_sources = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
boards:
  +A1: {feed: [-Q1, -W4 3×10 mm² 5 m]}
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)";

// The supply fails, the set runs up, -Q1 leaves I, passes 0, makes II.
TEST_CASE("transitions: loss of the grid onto the generator, and its return, through 0") {
  const Run run(two_sources);
  const Transition& away = run.between("grid", "generator");
  CHECK(away.event == Event::supply_fails);
  CHECK(run.words(away) == Words{"", "the supply fails", "start -G2",
                                 "'-Q1' between two positions, all open (put -Q1 to II)",
                                 "put -Q1 to II"});
  CHECK_FALSE(run.closed(away.steps[3], "-Q1", site::Conductor::l1));
  CHECK_FALSE(run.closed(away.steps[3], "-Q1", site::Conductor::n));
  const Transition& back = run.between("generator", "grid");
  CHECK(back.event == Event::supply_returns);
  CHECK(run.words(back) == Words{"", "the supply returns",
                                 "'-Q1' between two positions, all open (put -Q1 to I)",
                                 "put -Q1 to I", "stop -G2"});
}

TEST_CASE("transitions: a changeover that overlaps joins both sides for sure, or perhaps") {
  const Run sure(with(two_sources, "I-0-II 63 A 2P by hand, break before make: yes",
                      "I-II 63 A 2P by hand, break before make: no"));
  const Step& joined = sure.between("grid", "generator").steps[3];
  CHECK(joined.kind == StepKind::overlap);
  CHECK(sure.hazard(joined, HazardKind::dead_supply_fed));
  const Step& back = sure.between("generator", "grid").steps[2];
  CHECK(back.kind == StepKind::overlap);
  CHECK(sure.hazard(back, HazardKind::sources_joined));
  const Run perhaps(
      with(two_sources, "I-0-II 63 A 2P by hand, break before make: yes", "I-II 63 A 2P by hand"));
  const Step& maybe = perhaps.between("grid", "generator").steps[3];
  CHECK(maybe.kind == StepKind::overlap_maybe);
  CHECK_FALSE(perhaps.hazard(maybe, HazardKind::dead_supply_fed));
}

// N early: opens after the lines on leaving, closes before them on making. A pole of its own: the
// other way round at the worst.
TEST_CASE("transitions: the neutral pole first in and last out, or the lines alone") {
  const Run early(with(two_sources, "2P by hand", "2P by hand neutral early"));
  const Transition& way = early.between("grid", "generator");
  REQUIRE(way.steps.size() == 7);
  for (const std::size_t s : {3U, 5U}) {
    CHECK(way.steps[s].kind == StepKind::neutral_alone);
    CHECK(early.closed(way.steps[s], "-Q1", site::Conductor::n));
    CHECK_FALSE(early.closed(way.steps[s], "-Q1", site::Conductor::l1));
  }
  CHECK(way.steps[4].kind == StepKind::parted);
  const Run apart(with(two_sources, "2P by hand", "2P by hand neutral separate"));
  const Step& first = apart.between("grid", "generator").steps[3];
  CHECK(first.kind == StepKind::lines_alone);
  CHECK(apart.closed(first, "-Q1", site::Conductor::l1));
  CHECK_FALSE(apart.closed(first, "-Q1", site::Conductor::n));
}

constexpr const char* with_link = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: A2, contact: yes, rest: open, closed in: [island], proved by: [-Q2], driven by: -T1}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
inverters:
  -T1: {kind: battery, grid: forming, bond: none, synchronises at: [-Q2]}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P, operated: controller, without power: 0, break before make: yes}
  -Q2: {device: contactor 63 A 2P, operated: controller, without power: open, mirror contact: yes}
boards:
  +A2:
    feed: [-Q1, -Q2]
    circuits: [{name: Lights, device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, use: lighting}]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
  - [-T1:ac, -W3 3×6 mm² 3 m, A2]
states:
  grid: {-Q1: I, -Q2: closed, running: [supply, -T1]}
  island: {-Q1: 0, -Q2: open, running: [-T1]}
  generator: {-Q1: II, -Q2: closed, running: [-G2, -T1]}
)";

// The link waits for -Q2: for a moment neither neutral-earth joint is there, never both.
TEST_CASE("transitions: into island the link closes after the contactor has opened") {
  const Run run(with_link);
  const Transition& way = run.between("grid", "island");
  CHECK(run.words(way) ==
        Words{"", "the supply fails", "put -Q1 to 0", "'-X5' on its way (open -Q2)", "open -Q2"});
  CHECK(run.stands(way.steps[3], "-X5") == "open");
  CHECK(run.stands(way.steps[3], "-Q2") == "open");
  CHECK(run.stands(way.steps[4], "-X5") == "closed");
  CHECK(run.hazard(way.steps[3], HazardKind::neutral_without_bond));
  CHECK_FALSE(run.hazard(way.steps[4], HazardKind::neutral_without_bond));
}

// Back on the grid a mirror contact alone lets the link go only as -Q2 already closes.
TEST_CASE("transitions: back on the grid only an interlock opens the link before the contactor") {
  const Run bare(with_link);
  const Transition& late = bare.between("island", "grid");
  CHECK(bare.words(late) == Words{"", "the supply returns", "put -Q1 to I",
                                  "'-X5' on its way (close -Q2)", "close -Q2"});
  CHECK(bare.stands(late.steps[3], "-Q2") == "closed");
  CHECK(bare.hazard(late.steps[3], HazardKind::neutral_bonded_twice));
  const Run locked(std::string(with_link) +
                   "interlocks:\n"
                   "  - {never together: [-Q2: closed, -X5: closed], by: electrical}\n");
  const Transition& way = locked.between("island", "grid");
  CHECK(locked.words(way) == locked.words(late));
  CHECK(locked.stands(way.steps[3], "-Q2") == "open");
  CHECK(locked.stands(way.steps[3], "-X5") == "open");
  for (const Step& step : way.steps)
    CHECK_FALSE(locked.hazard(step, HazardKind::neutral_bonded_twice));
}

TEST_CASE("transitions: the generator starts before anything is moved, and stops last") {
  const Run run(with_link);
  const Transition& way = run.between("island", "generator");
  CHECK(way.event == Event::generator_starts);
  CHECK(run.words(way)[1] == "start -G2");
  const Transition& back = run.between("generator", "island");
  CHECK(back.event == Event::ordered);
  CHECK(run.words(back).back() == "stop -G2");
}

// Every coil drops out: -Q1 goes to 0, -Q2 opens, and the link stays open although -Q2 is.
TEST_CASE("transitions: without control power every device goes where it says") {
  const Run run(with_link);
  const Transition& lost = run.on(Event::control_power_lost, "generator");
  CHECK(run.words(lost) == Words{"", "put -Q1 to 0", "open -Q2"});
  CHECK(run.stands(lost.steps.back(), "-Q1") == "0");
  CHECK(run.stands(lost.steps.back(), "-X5") == "open");
  const Transition& island = run.on(Event::control_power_lost, "island");
  CHECK(run.stands(island.steps.back(), "-X5") == "open");
}

constexpr const char* behind_rcd = R"(
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
inverters:
  -T1: {kind: hybrid, backup side: yes, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -F1 RCD 63 A 2P 30 mA type A]}
  +A2: {feed: [-T1:backup, -W3 3×6 mm² 2 m, -F3 RCD 40 A 2P 30 mA type A]}
chains:
  - [A1, -F2 C32 2P, -W2 3×6 mm² 5 m, -T1:ac]
states:
  grid: {running: [supply, -T1]}
)";

// -F1 parts -T1 from the supply, which stays alive; -T1 opens its grid contact and joins neutral to
// earth. -F3 is behind the inverter: its trip starts nothing.
TEST_CASE("transitions: an RCD that trips ahead of an inverter sends it into island") {
  const Run run(behind_rcd);
  const Transition& trip = run.on(Event::rcd_trips, "grid");
  CHECK(run.site.elements[trip.rcd].designation == "-F1");
  CHECK(std::ranges::count(run.all, Event::rcd_trips, &Transition::event) == 1);
  CHECK(run.words(trip) == Words{"", "open -F1"});
  const Step& last = trip.steps.back();
  CHECK(run.stands(last, "-T1", "transfer") == "open");
  CHECK(run.stands(last, "-T1", "bond") == "closed");
  CHECK(last.situation.running == std::vector<bool>{true, true});
  CHECK(network::words_of(run.site, trip) == "when '-F1' trips in 'grid'");
}

TEST_CASE("transitions: positions on the way leave nodes, edges and own positions as they were") {
  const site::Site site = site_from(two_sources);
  const network::Network plain = network::build(site);
  const network::MotionNetwork motion = network::with_motion(plain, site);
  CHECK(motion.network.nodes.size() == plain.nodes.size());
  REQUIRE(motion.network.edges.size() == plain.edges.size());
  const network::Positions grid = network::positions_of(plain, site, site.states[0]);
  for (std::size_t e = 0; e < plain.edges.size(); ++e)
    CHECK(network::closed(plain.edges[e], grid) == network::closed(motion.network.edges[e], grid));
}

}  // namespace
}  // namespace linewright::tests
