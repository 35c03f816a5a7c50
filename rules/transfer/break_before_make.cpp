// Speaks of changeovers whose contacts may join both sides on their way: in the named transitions,
// step by step, and wherever else the sides lead to sources that must not meet. Two devices that
// could be closed together are left to interlock-by-construction; devices that overlap on purpose
// to closed-transition-only-if-built-for-it.
#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "check/later.hpp"
#include "check/meeting.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Hazard;
using network::HazardKind;
using network::Step;
using network::StepKind;
using network::Transition;
using network::Treat;

bool has_off(const site::Device& device) {
  return std::ranges::any_of(device.throws,
                             [](const site::Throw& it) { return it.terminal.empty(); });
}

/// Whether some way between two sources that must not meet is free while this changeover overlaps.
bool would_join(const AnalysedSite& site, std::size_t by) {
  return std::ranges::any_of(check::pairs_kept_apart(site), [&](check::SourcePair pair) {
    std::vector<Treat> treat = check::treatment_of(site, pair);
    if (treat[by] != Treat::as_it_may) return false;
    treat[by] = Treat::bridged;
    const auto found =
        network::ways_to_join(site.network, network::line_nodes(site.network, pair.a),
                              network::line_nodes(site.network, pair.b), treat);
    return std::ranges::any_of(found.ways, [&](const auto& way) {
      return network::excluded_by(site.network, site.site, way) == nullptr;
    });
  });
}

/// A step of a named transition at which sources meet over this changeover.
struct Meeting {
  std::string direction;
  std::string step;
};

class Judge {
 public:
  explicit Judge(const AnalysedSite& site)
      : site_(site), motion_(check::motion_of(site)), transitions_(check::transitions_of(site)) {}

  std::vector<Verdict> run() {
    for (std::size_t e = 0; e < site_.site.elements.size(); ++e) {
      const auto* device = site::facts<site::Device>(site_.element(e));
      if (device != nullptr && device->kind == site::DeviceKind::changeover)
        verdicts_.push_back(judge(e, *device));
    }
    if (verdicts_.empty()) verdicts_.push_back(not_relevant({}));
    return std::move(verdicts_);
  }

 private:
  Verdict judge(std::size_t element, const site::Device& device) {
    const Subject subject = site_.about(element);
    if (device.closed_transition) return not_relevant(subject);
    if (device.break_before_make == true || (!device.break_before_make && has_off(device)))
      return holds(subject);
    const int by = site_.network.find_switch(element);
    const std::vector<Meeting> meetings = meetings_over(by);
    if (meetings.empty() && !would_join(site_, static_cast<std::size_t>(by))) return holds(subject);
    const std::string& name = site_.name(element);
    if (!device.break_before_make)
      return open(subject, fmt::format("whether '{}' parts its sources", name),
                  fmt::format("'break before make' of '{}'", name));
    Verdict verdict =
        broken(subject, fmt::format("'{}' makes before it breaks, must break first", name),
               "fit a changeover that opens one side before it closes the other");
    for (const Meeting& meeting : meetings)
      verdict.notes.push_back(
          {subject.where, fmt::format("{}: {}", meeting.direction, meeting.step)});
    return mended_by(std::move(verdict), {KeyValue{name, "break before make", "yes"}});
  }

  std::vector<Meeting> meetings_over(int by) const {
    std::vector<Meeting> meetings;
    for (const Transition& transition : transitions_)
      for (const Step& step : transition.steps) {
        const bool overlaps =
            step.kind == StepKind::overlap || step.kind == StepKind::overlap_maybe;
        if (overlaps && step.move.by == by && joins_sources(step))
          meetings.push_back({network::words_of(site_.site, transition),
                              network::words_of(motion_, site_.site, step)});
      }
    return meetings;
  }

  bool joins_sources(const Step& step) const {
    const auto hazards = network::hazards_in(motion_.network, site_.site, step.situation, {});
    return std::ranges::any_of(hazards, [](const Hazard& hazard) {
      return hazard.kind == HazardKind::sources_joined ||
             hazard.kind == HazardKind::dead_supply_fed;
    });
  }

  const AnalysedSite& site_;
  const network::MotionNetwork& motion_;
  const std::vector<Transition>& transitions_;
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  return Judge(site).run();
}

}  // namespace

extern const check::Rule break_before_make{
    .id = "transfer/break-before-make",
    .severity = Severity::danger,
    .must_hold =
        "A transfer opens all poles of the old source before it closes any of the new one.",
    .why =
        "Twenty milliseconds of overlap with a source that is out of step weld contacts and drive "
        "a "
        "multiple of the short-circuit current.",
    .clauses = {"IEC 60364-5-55 551.6.1"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# A changeover without off whose contacts overlap.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-II 63 A 2P by hand, break before make: no}
boards:
  +A1:
    feed: [-Q1, -W4 3×10 mm² 5 m]
chains:
  - [supply, -Q11 switch-disconnector 63 A 2P, -Q1:I]
  - [-G2, -Q12 switch-disconnector 63 A 2P, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
