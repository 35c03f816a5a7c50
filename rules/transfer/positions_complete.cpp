// Speaks of changeovers: that each of their positions is known, used by a state, and that off and
// the position without control power are among them. Of what rests open: that a state closes it, or
// nothing has looked at what it joins.
#include <algorithm>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rule.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Treat;

bool is_main_switch(const site::Device& device) {
  switch (device.kind) {
    case site::DeviceKind::breaker:
    case site::DeviceKind::rcbo:
    case site::DeviceKind::switch_disconnector:
    case site::DeviceKind::disconnector:
    case site::DeviceKind::fuse_switch:
      return true;
    case site::DeviceKind::rcd:
    case site::DeviceKind::fuse:
    case site::DeviceKind::link:
    case site::DeviceKind::contactor:
      return false;
    case site::DeviceKind::changeover:
      break;
  }
  return std::ranges::any_of(device.throws,
                             [](const site::Throw& it) { return it.terminal.empty(); });
}

class Judge {
 public:
  Judge(const AnalysedSite& site, std::size_t element, const site::Device& device)
      : site_(site),
        element_(element),
        device_(device),
        by_(site.network.find_switch(element)),
        name_(site.name(element)) {}

  std::vector<Verdict> run() {
    judge_off();
    judge_power();
    judge_states();
    if (verdicts_.empty()) verdicts_.push_back(holds(site_.about(element_)));
    return std::move(verdicts_);
  }

 private:
  bool has_off() const { return is_main_switch(device_); }

  void judge_off() {
    if (has_off()) return;
    for (const site::Throw& side : device_.throws) {
      if (!source_without_main_switch(side)) continue;
      verdicts_.push_back(
          mended_by(broken(site_.about(element_),
                           fmt::format("'{}' has no off position and its side '{}' no main switch",
                                       name_, side.position),
                           "fit an I-0-II changeover, or a main switch ahead of this side"),
                    {DeviceWords{name_, "I-0-II"}}));
      return;
    }
  }

  /// Whether a source reaches this side with every main switch open, and everything else closed.
  bool source_without_main_switch(const site::Throw& side) const {
    std::vector<Treat> treat(site_.network.switches.size(), Treat::bridged);
    for (std::size_t s = 0; s < treat.size(); ++s) {
      const auto* device =
          site::facts<site::Device>(site_.element(site_.network.switches[s].element));
      if (device != nullptr && is_main_switch(*device)) treat[s] = Treat::as_open;
    }
    treat[static_cast<std::size_t>(by_)] = Treat::as_open;
    const std::size_t terminal = site_.site.find_terminal(element_, side.terminal);
    const auto here = network::line_nodes(site_.network, element_, terminal);
    for (std::size_t s = 0; s < site_.network.sources.size(); ++s) {
      const auto there = network::line_nodes(site_.network, s);
      if (!network::ways_to_join(site_.network, here, there, treat).ways.empty()) return true;
    }
    return false;
  }

  void judge_power() {
    if (!device_.operation) {
      verdicts_.push_back(open(site_.about(element_), fmt::format("who moves '{}'", name_),
                               fmt::format("'operated' of '{}': hand, controller or both", name_)));
      return;
    }
    if (*device_.operation == site::Operation::hand || device_.without_power) return;
    verdicts_.push_back(open(site_.about(element_),
                             fmt::format("where '{}' stands without control power", name_),
                             fmt::format("'without power' of '{}'", name_)));
  }

  void judge_states() {
    const auto by = static_cast<std::size_t>(by_);
    for (const StateView& state : site_.states)
      if (state.positions.of[by] == network::unknown)
        verdicts_.push_back(open(site_.about(element_, &state),
                                 fmt::format("where '{}' stands", name_),
                                 fmt::format("the position of '{}' in this state", name_)));
    for (std::size_t p = 0; p < device_.throws.size(); ++p) {
      if (device_.throws[p].terminal.empty() || used(p)) continue;
      const std::string& position = device_.throws[p].position;
      verdicts_.push_back(open(site_.about(element_),
                               fmt::format("what '{}' does at '{}'", name_, position),
                               fmt::format("a state with '{}: {}'", name_, position)));
    }
  }

  bool used(std::size_t position) const {
    return std::ranges::any_of(site_.states, [&](const StateView& state) {
      return state.positions.of[static_cast<std::size_t>(by_)] == static_cast<int>(position);
    });
  }

  const AnalysedSite& site_;
  std::size_t element_;
  const site::Device& device_;
  int by_;
  const std::string& name_;
  std::vector<Verdict> verdicts_;
};

/// Of a device that rests open: whether some state shows it closed.
Verdict judge_closed(const AnalysedSite& site, std::size_t element) {
  const int by = site.network.find_switch(element);
  const std::string& name = site.name(element);
  const bool shown = std::ranges::any_of(site.states, [&](const StateView& state) {
    return state.positions.of[static_cast<std::size_t>(by)] == 1;
  });
  if (shown) return holds(site.about(element));
  return open(site.about(element), fmt::format("what '{}' does when it is closed", name),
              fmt::format("a state with '{}: closed'", name));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device == nullptr) continue;
    if (device->kind != site::DeviceKind::changeover) {
      if (device->rest == "open") verdicts.push_back(judge_closed(site, e));
      continue;
    }
    auto more = Judge(site, e, *device).run();
    std::ranges::move(more, std::back_inserter(verdicts));
  }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule positions_complete{
    .id = "transfer/positions-complete",
    .severity = Severity::breach,
    .must_hold =
        "Each changeover has an off position or a main switch on each side, and all its "
        "positions are known: in every state, and without control power.",
    .why = "The position nobody wrote down is the one somebody finds it in.",
    .clauses = {"IEC 60364-5-55 551.6.1", "AS/NZS 3000 7.3.3"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# A changeover without off, and no main switch ahead of it.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-II 63 A 2P by hand, break before make: yes}
boards:
  +A1:
    feed: [-Q1, -W4 3×10 mm² 5 m]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
