// Speaks of what a generator plugs into: that it is an inlet, and that its pins are dead while the
// generator rests; its neutral pin also after any one move of a hand-operated device that no
// mechanical or key interlock forbids (for lines see interlock-by-construction). Lines of a source
// that also meets the generator in a named state are left to no-unsynchronised-paralleling and
// no-backfeed-to-dead-grid; a supply neutral that stays joined while the generator runs, where the
// profile wants it opened, to all-live-conductors-isolated-from-grid.
#include <algorithm>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

/// Whether a hand can move it: a device of which nobody says otherwise, contactors apart.
bool by_hand(const AnalysedSite& site, const network::Switch& it) {
  const auto* device = site::facts<site::Device>(site.element(it.element));
  if (device == nullptr || !it.part.empty()) return false;
  if (device->operation) return *device->operation != site::Operation::controller;
  return device->kind != site::DeviceKind::contactor;
}

std::vector<network::SwitchAt> as_list(const network::Positions& positions) {
  std::vector<network::SwitchAt> list;
  for (std::size_t s = 0; s < positions.of.size(); ++s)
    if (positions.of[s] != network::unknown) list.push_back({static_cast<int>(s), positions.of[s]});
  return list;
}

/// Whether the interlock holds whatever becomes of wires and programs.
bool by_construction(const site::Interlock& interlock) {
  return interlock.means == site::InterlockMeans::mechanical ||
         interlock.means == site::InterlockMeans::key;
}

class Judge {
 public:
  Judge(const AnalysedSite& site, std::size_t generator, std::size_t connector)
      : site_(site), generator_(generator), connector_(connector) {}

  std::vector<Verdict> run() {
    const auto* connector = site::facts<site::Connector>(site_.element(connector_));
    if (!connector->inlet)
      verdicts_.push_back(mended_by(
          broken(site_.about(connector_),
                 fmt::format("'{}' is a socket-outlet, must be an inlet", site_.name(connector_)),
                 "fit an inlet with recessed pins; a lead with two plugs has live bare "
                 "pins"),
          {DeviceWords{site_.name(connector_), "inlet"}}));
    for (const StateView& state : site_.states)
      if (!check::runs(state, generator_)) judge(state);
    if (verdicts_.empty()) verdicts_.push_back(holds(site_.about(connector_)));
    return std::move(verdicts_);
  }

 private:
  void judge(const StateView& state) {
    for (std::size_t s = 0; s < site_.network.sources.size(); ++s) {
      const network::SourcePoint& source = site_.network.sources[s];
      if (!source.forming || !check::runs(state, source.element)) continue;
      if (judge_lines(state, s)) continue;
      judge_neutral(state, s);
    }
  }

  /// True if there is something to say of the lines, here or in another rule.
  bool judge_lines(const StateView& state, std::size_t s) {
    const std::size_t element = site_.network.sources[s].element;
    const auto pins = network::line_nodes(site_.network, connector_, 0);
    const auto source_lines = network::line_nodes(site_.network, s);
    const bool alive = network::any_joined(state, pins, source_lines);
    const bool perhaps = network::any_possibly_joined(state, pins, source_lines);
    if (!perhaps || check::meet_in_named_state(site_, generator_, element)) return perhaps;
    tell(state, element, alive, "pins");
    return true;
  }

  void judge_neutral(const StateView& state, std::size_t s) {
    const network::SourcePoint& source = site_.network.sources[s];
    const auto pin = site_.network.neutral(connector_, 0);
    const auto neutral = site_.network.neutral(source.element, source.terminal);
    if (pin == network::no_node || neutral == network::no_node || neutral_told_elsewhere()) return;
    if (state.possibly_joined(pin, neutral))
      tell(state, source.element, state.joined(pin, neutral), "neutral pin");
    else
      judge_moves(state, source.element, pin, neutral);
  }

  void judge_moves(const StateView& state, std::size_t source, std::uint32_t pin,
                   std::uint32_t neutral) {
    for (std::size_t m = 0; m < site_.network.switches.size(); ++m) {
      const network::Switch& moved = site_.network.switches[m];
      if (!by_hand(site_, moved)) continue;
      for (std::size_t p = 0; p < moved.positions.size(); ++p) {
        network::Positions after = state.positions;
        after.of[m] = static_cast<int>(p);
        const auto component = network::components(site_.network, after, false);
        if (component[pin] == component[neutral]) judge_move(state, source, moved, after);
      }
    }
  }

  void judge_move(const StateView& state, std::size_t source, const network::Switch& moved,
                  const network::Positions& after) {
    const auto* interlock = network::excluded_by(site_.network, site_.site, as_list(after));
    if (interlock != nullptr && by_construction(*interlock)) return;
    const std::string device = site_.name(moved.element);
    const Subject subject = site_.about(connector_, &state);
    if (interlock != nullptr && interlock->means == site::InterlockMeans::unknown)
      return verdicts_.push_back(open(subject,
                                      fmt::format("whether a lever or key holds '{}' here", device),
                                      fmt::format("'by' of the interlock of '{}'", device)));
    Verdict verdict =
        broken(subject,
               fmt::format("moving '{}' joins the neutral pin of '{}' to {} while unplugged",
                           device, site_.name(connector_), check::quoted(site_, source)),
               "keep it open by a mechanical or key interlock while the generator is not selected");
    verdict.notes.push_back({site_.element(moved.element).where, "nothing holds it there"});
    verdicts_.push_back(verdict);
  }

  bool neutral_told_elsewhere() const {
    if (check::neutral_stays_joined(site_)) return false;
    return std::ranges::any_of(site_.states, [&](const StateView& state) {
      const network::Zone* zone = state.zone_of(generator_);
      return check::runs(state, generator_) && zone != nullptr &&
             (zone->supply_neutral || zone->supply_neutral_undecided);
    });
  }

  void tell(const StateView& state, std::size_t element, bool sure, std::string_view what) {
    const Subject subject = site_.about(connector_, &state);
    if (!sure) {
      verdicts_.push_back(
          open(subject, fmt::format("whether the {} of '{}' is dead", what, site_.name(connector_)),
               fmt::format("the poles or the position of {}",
                           check::quoted(site_, check::undecided_elements(site_, state)))));
      return;
    }
    verdicts_.push_back(broken(
        subject,
        fmt::format("{} of '{}' joined to {} while unplugged, must be dead", what,
                    site_.name(connector_), check::quoted(site_, element)),
        "put a device between that opens lines and neutral while the generator is not selected"));
  }

  const AnalysedSite& site_;
  std::size_t generator_;
  std::size_t connector_;
  std::vector<Verdict> verdicts_;
};

bool all_separated(const AnalysedSite& site, const std::vector<std::size_t>& loads) {
  return !loads.empty() && std::ranges::all_of(loads, [&](std::size_t load) {
    return site::facts<site::LoadGroup>(site.element(load))->use == site::Use::separated;
  });
}

std::vector<Verdict> judge_generator(const AnalysedSite& site, std::size_t generator) {
  const auto* facts = site::facts<site::Generator>(site.element(generator));
  const check::Plug plug = check::plug_of(site, generator);
  if (plug.connectors.empty() || !plug.apart) {
    if (facts->fixed == true || all_separated(site, plug.loads))
      return {not_relevant(site.about(generator))};
    const std::string& name = site.name(generator);
    return {open(site.about(generator), fmt::format("what '{}' plugs into", name),
                 facts->fixed ? fmt::format("an inlet in the chain of '{}'", name)
                              : fmt::format("'fixed' of '{}': yes, or no and its inlet", name))};
  }
  std::vector<Verdict> verdicts;
  for (const std::size_t connector : plug.connectors) {
    auto more = Judge(site, generator, connector).run();
    std::ranges::move(more, std::back_inserter(verdicts));
  }
  return verdicts;
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    if (site::facts<site::Generator>(site.element(e)) == nullptr) continue;
    auto more = judge_generator(site, e);
    std::ranges::move(more, std::back_inserter(verdicts));
  }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule generator_inlet{
    .id = "transfer/generator-inlet",
    .severity = Severity::danger,
    .must_hold =
        "A generator that is plugged in plugs into an inlet, whose pins are joined to no "
        "other source while the generator rests.",
    .why =
        "A socket-outlet fed through a lead with two plugs leaves bare live pins in somebody's "
        "hand, and nothing limits where its power goes.",
    .clauses = {"IEC 60364-5-55 551.6", "IEC 60364-4-41 (basic protection)", "AS/NZS 3010 4.2.6"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island"},
    .example = R"(# The generator is plugged into a socket-outlet.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 3 kVA, neutral: linked, fixed: no}
boards:
  +A1:
    feed: [-Q1, -W4 3×6 mm² 5 m]
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
chains:
  - [supply, -Q1:I]
  - [-G2, -W2 3×6 mm² 9 m, -X1 socket-outlet 32 A, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
