// Speaks of sites whose backed-up circuits hang on inverters or on devices that a coil moves:
// whether a named state feeds them without any of that, reached by hand, with the interlocks in
// force. Where the file names no bypass at all, that is a question for the site. Devices that a
// coil moves count where they fall without power. What else is wrong in that state its own rules
// tell.
#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/transfer_devices.hpp"
#include "network/movement.hpp"
#include "network/ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Mover;
using network::StateView;

std::vector<std::size_t> backup_loads(const AnalysedSite& site) {
  std::vector<std::size_t> loads;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* load = site::facts<site::LoadGroup>(site.element(e));
    if (load == nullptr) continue;
    std::optional<site::Service> promised = load->service;
    const std::size_t board = site.element(e).assembly;
    if (!promised && board != site::none) promised = site.site.assemblies[board].service;
    if (promised == site::Service::backup) loads.push_back(e);
  }
  return loads;
}

bool is_inverter(const AnalysedSite& site, std::size_t element) {
  return site::facts<site::Inverter>(site.element(element)) != nullptr;
}

class Judge {
 public:
  explicit Judge(const AnalysedSite& site)
      : site_(site),
        movement_(network::movement_of(site.network, site.site)),
        loads_(backup_loads(site)) {}

  std::vector<Verdict> run() {
    const std::size_t at = loads_.empty() ? site::none : automatic();
    if (at == site::none) return {not_relevant({})};
    for (const StateView& state : site_.states)
      if (is_fallback(state)) return {holds(site_.about(state))};
    if (!has_bypass())
      return {asks(site_.about(at),
                   fmt::format("how are {} fed with the automatic equipment out of order",
                               check::circuits_in_words(site_, loads_)),
                   "by hand, in a way that keeps the interlock and is described at the panel")};
    Verdict verdict =
        broken(site_.about(at),
               fmt::format("no state reached by hand feeds {} without automatics",
                           check::circuits_in_words(site_, loads_)),
               "give them a bypass by hand, with its own interlock, and a state for it");
    verdict.notes = check::circuit_notes(site_, loads_, "hangs on automatic equipment");
    return {verdict};
  }

 private:
  /// The first inverter that feeds them in some state, else the first transfer that a coil moves.
  std::size_t automatic() const {
    std::size_t first = site::none;
    for (const StateView& state : site_.states)
      for (const network::Loop& loop : state.loops)
        if (std::ranges::count(loads_, loop.load) > 0 && is_inverter(site_, loop.source))
          first = std::min(first, loop.source);
    if (first != site::none) return first;
    for (const check::TransferDevice& each : check::transfer_devices(site_))
      if (each.by_controller && each.sources.size() > 1) return each.element;
    return site::none;
  }

  bool has_bypass() const {
    return std::ranges::any_of(site_.states, [](const StateView& state) {
      return state.state->kind == site::StateKind::bypass;
    });
  }

  bool is_fallback(const StateView& state) const {
    const auto& running = state.state->running;
    if (std::ranges::any_of(running, [&](std::size_t e) { return is_inverter(site_, e); }))
      return false;
    if (!std::ranges::all_of(loads_, [&](std::size_t load) { return state.feeds(load); }))
      return false;
    return by_hand(state) && allowed(state);
  }

  bool by_hand(const StateView& state) const {
    for (std::size_t s = 0; s < movement_.of.size(); ++s) {
      const network::Freedom& freedom = movement_.of[s];
      const network::Switch& it = site_.network.switches[s];
      const int at = state.positions.of[s];
      if (freedom.mover == Mover::law && it.part == "transfer" && at != 0) return false;
      if (freedom.mover != Mover::controller && freedom.mover != Mover::not_said) continue;
      const auto* device = site::facts<site::Device>(site_.element(it.element));
      const int falls = freedom.without_power != network::unknown ? freedom.without_power : it.rest;
      if (device == nullptr || at == falls) continue;
      if (feeds(state, it.element)) return false;
    }
    return true;
  }

  /// Whether the device is on a way to one of the loads in this state.
  bool feeds(const StateView& state, std::size_t element) const {
    return std::ranges::any_of(site_.network.sources, [&](const network::SourcePoint& source) {
      if (std::ranges::count(state.state->running, source.element) == 0) return false;
      const network::WaysFrom ways(site_.network, site_.site, state.positions, source);
      return std::ranges::any_of(
          loads_, [&](std::size_t load) { return ways.lines_to(load, 0).may_pass(element); });
    });
  }

  bool allowed(const StateView& state) const {
    const network::Situation situation =
        network::situation_of(site_.network, site_.site, *state.state);
    return network::forbidden_by(movement_, situation) == site::none;
  }

  const AnalysedSite& site_;
  network::Movement movement_;
  std::vector<std::size_t> loads_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  return Judge(site).run();
}

}  // namespace

extern const check::Rule manual_fallback{
    .id = "transfer/manual-fallback",
    .severity = Severity::advice,
    .must_hold =
        "The backed-up circuits can be fed by hand with the automatic equipment out of order, "
        "without giving up an interlock.",
    .why = "Without such a way people make one, in the dark, with tape and a lead with two plugs.",
    .clauses = {"good practice"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(# The bypass round the inverter is moved by a coil that opens without power.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
inverters:
  -T1: {kind: hybrid, backup side: yes, power: 5 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
devices:
  -Q2: {device: changeover I-0-II 63 A 2P, operated: controller, without power: 0, break before make: yes, category: AC-33}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m]}
  +A3:
    service: backup
    feed: [-Q2, -W4 3×10 mm² 5 m]
    circuits:
      - {name: Lights, device: B10 1P+N 30 mA type A, cable: 3×1.5 mm² 9 m, load: 1 kW, use: lighting}
chains:
  - [A1, -F21 C32 2P, -T1:ac]
  - [-T1:backup, -F22 C32 2P, -Q2:I]
  - [A1, -F5 C32 2P, -Q2:II]
states:
  grid: {-Q2: I}
  island: {-Q2: I, running: [-T1]}
  bypass: {-Q2: II, running: [supply]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
