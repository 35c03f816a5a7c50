// Speaks of what feeds the loads in bypass: that a state says it, and that every supply or
// generator that the bypass can be fed from has such a state, since bonds and protection are judged
// by state.
#include <algorithm>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::SwitchAt;
using network::Treat;

bool is_bypass(const StateView& state) {
  return state.state->kind == site::StateKind::bypass;
}

bool is_inverter(const AnalysedSite& site, std::size_t element) {
  return site::facts<site::Inverter>(site.element(element)) != nullptr;
}

/// Line nodes of the loads that the outputs of inverters feed when there is no bypass.
std::vector<std::uint32_t> lines_of_inverter_loads(const AnalysedSite& site) {
  std::vector<std::uint32_t> nodes;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    if (site::facts<site::LoadGroup>(site.element(e)) == nullptr) continue;
    const auto load = network::line_nodes(site.network, e, 0);
    const bool fed = std::ranges::any_of(site.states, [&](const StateView& state) {
      if (is_bypass(state)) return false;
      for (std::size_t s = 0; s < site.network.sources.size(); ++s)
        if (site.network.sources[s].forming && is_inverter(site, site.network.sources[s].element) &&
            network::any_joined(state, load, network::line_nodes(site.network, s)))
          return true;
      return false;
    });
    if (fed) nodes.insert(nodes.end(), load.begin(), load.end());
  }
  return nodes;
}

/// Whether a source runs and feeds some of these lines in a bypass state.
bool feeds_in_bypass(const AnalysedSite& site, const StateView& state, std::size_t source,
                     const std::vector<std::uint32_t>& loads) {
  return is_bypass(state) && check::runs(state, site.network.sources[source].element) &&
         network::any_joined(state, network::line_nodes(site.network, source), loads);
}

/// Switches that stand in this bypass state as they stand in no other kind of state.
std::vector<bool> makes_the_bypass(const AnalysedSite& site, const StateView& bypass) {
  std::vector<bool> makes(site.network.switches.size(), true);
  for (const StateView& state : site.states)
    for (std::size_t s = 0; s < makes.size(); ++s)
      if (!is_bypass(state) && state.positions.of[s] == bypass.positions.of[s]) makes[s] = false;
  return makes;
}

/// Whether the source can be brought to the loads while the bypass stands as it does.
bool can_feed(const AnalysedSite& site, const StateView& bypass, std::size_t source,
              const std::vector<std::uint32_t>& loads) {
  const std::vector<bool> makes = makes_the_bypass(site, bypass);
  std::vector<Treat> treat = network::usual_treatment(site.network, site.site);
  for (std::size_t s = 0; s < treat.size(); ++s) {
    if (makes[s]) treat[s] = Treat::as_it_may;
    if (site.network.switches[s].part == "transfer") treat[s] = Treat::as_open;
  }
  const auto found =
      network::ways_to_join(site.network, network::line_nodes(site.network, source), loads, treat);
  const auto keeps_bypass = [&](SwitchAt at) {
    const auto s = static_cast<std::size_t>(at.by);
    return !makes[s] || bypass.positions.of[s] == at.position;
  };
  return !found.complete || std::ranges::any_of(found.ways, [&](const auto& way) {
    return std::ranges::all_of(way, keeps_bypass) &&
           network::excluded_by(site.network, site.site, way) == nullptr;
  });
}

void judge_states(const AnalysedSite& site, const std::vector<std::uint32_t>& loads,
                  std::vector<Verdict>& verdicts) {
  for (const StateView& state : site.states) {
    if (!is_bypass(state)) continue;
    bool fed = false;
    for (std::size_t s = 0; s < site.network.sources.size(); ++s)
      fed = fed || feeds_in_bypass(site, state, s, loads);
    verdicts.push_back(
        fed ? holds(site.about(state))
            : broken(site.about(state), "no running source feeds the loads through the bypass",
                     "name the source that runs and the positions that bring it to the bypass"));
  }
}

void judge_other_sources(const AnalysedSite& site, const std::vector<std::uint32_t>& loads,
                         std::vector<Verdict>& verdicts) {
  for (std::size_t s = 0; s < site.network.sources.size(); ++s) {
    const std::size_t source = site.network.sources[s].element;
    if (is_inverter(site, source)) continue;
    bool shown = false;
    bool reaches = false;
    for (const StateView& state : site.states) {
      if (!is_bypass(state)) continue;
      shown = shown || feeds_in_bypass(site, state, s, loads);
      reaches = reaches || can_feed(site, state, s, loads);
    }
    if (!reaches || shown) continue;
    const std::string name = check::quoted(site, source);
    verdicts.push_back(open(site.about(source),
                            fmt::format("bypass fed from {}: no state shows it", name),
                            fmt::format("a state of kind bypass in which {} runs", name)));
  }
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  const auto loads = lines_of_inverter_loads(site);
  if (loads.empty() || std::ranges::none_of(site.states, is_bypass)) return {not_relevant({})};
  std::vector<Verdict> verdicts;
  judge_states(site, loads, verdicts);
  judge_other_sources(site, loads, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule bypass_source_known{
    .id = "transfer/bypass-source-known",
    .severity = Severity::breach,
    .must_hold = "Each source that can feed the bypass has a state that shows it doing so.",
    .why =
        "Fed from another source, the bypass brings that source's earthing to the loads "
        "without the inverter between, and nobody has looked at it.",
    .clauses = {"IEC 60364-5-55 551.4"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(# In bypass the main switch is open: nothing feeds the loads.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island}
panel:
  id: +A2
  interior: explicit
  busbars: {-WB1: 63 A, -WB3: 63 A}
  devices:
    -Q1: switch-disconnector 63 A 2P
    -Q2: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
  chains:
    - [supply, -Q1, -WB1]
    - [-WB1, -F21 C32 2P, -T1:ac]
    - [-T1:backup, -Q2:I]
    - [-WB1, -Q2:II]
    - [-Q2, -WB3]
boards:
  +A3:
    feed: [-WB3, -W3 3×6 mm² 5 m]
    circuits: [{id: -F31, device: B16 2P, cable: 3×2.5 mm² 9 m, load: 1 kW}]
states:
  grid: {-Q2: I}
  island: {-Q2: I, running: [-T1]}
  bypass: {-Q1: open, -Q2: II, running: [supply]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
