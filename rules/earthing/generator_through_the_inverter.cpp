// A generator that feeds through an inverter's AC side is a state of its own, and there the
// inverter's contact between neutral and earth is open.
//
// Speaks where a generator can reach the AC side of an inverter: no state may show it, or a state
// may claim a position of the inverter's contact that it does not take while its AC side is fed.
// The count of joints in the states that show it is left to generator-with-switched-neutral (none)
// and one-neutral-bond-per-state (several).
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

bool runs(const StateView& state, std::size_t element) {
  return std::ranges::count(state.state->running, element) > 0;
}

/// A generator and an inverter whose AC side it can feed.
struct Pair {
  std::size_t generator = site::none;
  std::size_t inverter = site::none;
  std::vector<std::uint32_t> from;  ///< lines of the generator
  std::vector<std::uint32_t> to;    ///< lines of the AC side
};

/// Whether some setting of the switches leads the generator there past every other inverter.
bool can_feed(const AnalysedSite& site, const Pair& pair) {
  auto treat = network::usual_treatment(site.network, site.site);
  for (std::size_t s = 0; s < site.network.switches.size(); ++s)
    if (site.network.switches[s].part == "transfer") treat[s] = network::Treat::as_open;
  const auto ways = network::ways_to_join(site.network, pair.from, pair.to, treat);
  return !ways.ways.empty() || !ways.complete;
}

std::vector<Pair> pairs_of(const AnalysedSite& site) {
  std::vector<Pair> pairs;
  for (std::size_t s = 0; s < site.network.sources.size(); ++s) {
    const std::size_t generator = site.network.sources[s].element;
    if (site::facts<site::Generator>(site.element(generator)) == nullptr) continue;
    for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
      const auto* inverter = site::facts<site::Inverter>(site.element(e));
      const std::size_t ac = site.site.find_terminal(e, "ac");
      if (inverter == nullptr || !inverter->has_backup_side || ac == site::none) continue;
      Pair pair{generator, e, network::line_nodes(site.network, s),
                network::line_nodes(site.network, e, ac)};
      if (can_feed(site, pair)) pairs.push_back(std::move(pair));
    }
  }
  return pairs;
}

/// Whether the generator feeds the running inverter in that state, the supply away.
bool shows(const StateView& state, const Pair& pair) {
  return !state.supply_runs && runs(state, pair.generator) && runs(state, pair.inverter) &&
         network::any_joined(state, pair.from, pair.to);
}

/// The contact that the state names although the inverter moves it by itself.
const site::PositionOf* claimed(const AnalysedSite& site, const StateView& state,
                                const Pair& pair) {
  if (site.network.find_switch(pair.inverter, "bond") < 0) return nullptr;
  const auto& named = state.state->positions;
  const auto found = std::ranges::find_if(named, [&](const site::PositionOf& it) {
    return it.element == pair.inverter && it.part == "bond" && it.position == "closed";
  });
  return found == named.end() ? nullptr : &*found;
}

Verdict judge(const AnalysedSite& site, const Pair& pair) {
  const std::string inverter = check::quoted(site, pair.inverter);
  const std::string generator = check::quoted(site, pair.generator);
  bool shown = false;
  for (const StateView& state : site.states) {
    if (!shows(state, pair)) continue;
    shown = true;
    const site::PositionOf* claim = claimed(site, state, pair);
    if (claim == nullptr) continue;
    Subject where = site.about(pair.inverter, &state);
    if (claim->where.known()) where.where = claim->where;
    return broken(where,
                  fmt::format("{} opens its neutral-earth contact while {} feeds it, 'closed' here",
                              inverter, generator),
                  fmt::format("take the contact out of this state; {} or its side of the transfer "
                              "must provide the one joint",
                              generator));
  }
  if (shown) return holds(site.about(pair.inverter));
  return open(site.about(pair.inverter),
              fmt::format("what happens when {} feeds the loads through {}", generator, inverter),
              fmt::format("a state in which {} and {} run and are joined (states: generator: "
                          "running: …)",
                          generator, inverter));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const Pair& pair : pairs_of(site))
    verdicts.push_back(judge(site, pair));
  return verdicts;
}

}  // namespace

extern const check::Rule generator_through_the_inverter{
    .id = "earthing/generator-through-the-inverter",
    .severity = Severity::danger,
    .must_hold =
        "Feeding through an inverter's AC side, a generator provides the one joint of neutral and "
        "earth, and a state shows it.",
    .why =
        "The inverter sees a source and opens its own contact. A floating portable set then leaves "
        "the whole backup side unearthed, just when the battery is empty.",
    .clauses = {"IEC 60364-5-55 551.4 (follows from it)"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example =
        R"(# The state counts on the inverter's contact, which opens while the floating set feeds it.
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {system: 1/N/PE 230 V 50 Hz, neutral: floating, winding: line-neutral, fixed: yes, own rcd: no}
inverters:
  -T1: {kind: hybrid, backup side: yes, phases: 1, neutral in island: opened, bond: closes in island, bond rest: open}
boards:
  +A3:
    feed: [-T1:backup, -W3 3×6 mm² 3 m]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, cable: 3×1.5 mm² 9 m, use: lighting}
chains:
  - [-G2, -W1 3×6 mm² 9 m, -F9 C32 2P, -W2 3×6 mm² 3 m, -T1:ac]
states:
  island: {-F9: open, running: [-T1]}
  generator: {-T1:bond: closed, running: [-G2, -T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
