// Speaks of what a generator plugs into: that it is an inlet, and that its pins are dead while the
// generator rests. Lines of a source that also meets the generator in a named state are left to
// no-unsynchronised-paralleling and no-backfeed-to-dead-grid; a supply neutral that stays joined
// while the generator runs, where the profile wants it opened, to
// all-live-conductors-isolated-from-grid.
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

class Judge {
 public:
  Judge(const AnalysedSite& site, std::size_t generator, std::size_t connector)
      : site_(site), generator_(generator), connector_(connector) {}

  std::vector<Verdict> run() {
    const auto* connector = site::facts<site::Connector>(site_.element(connector_));
    if (!connector->inlet)
      verdicts_.push_back(
          broken(site_.about(connector_),
                 fmt::format("'{}' is a socket-outlet, must be an inlet", site_.name(connector_)),
                 "fit an inlet with recessed pins; a lead with two plugs has live bare pins"));
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
    if (!state.possibly_joined(pin, neutral) || neutral_told_elsewhere()) return;
    tell(state, source.element, state.joined(pin, neutral), "neutral pin");
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
