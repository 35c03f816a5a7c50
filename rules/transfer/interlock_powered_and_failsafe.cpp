// Speaks of transfers that a coil moves: whether those that keep their position report it, what
// happens step by step when every coil drops out, and whether one welded contact of an inverter's
// grid contactor reaches a dead grid. Two contactors kept apart by an interlock are left to
// interlock-by-construction, a missing report that a neutral-earth link waits for to
// earthing/bond-follows-grid-contactor, changeovers without a position for lost power to
// positions-complete. Loss of a bus or of a controller's program is not looked at.
#include <algorithm>

#include <fmt/core.h>

#include "check/later.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/transfer_devices.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Hazard;
using network::HazardKind;
using network::StateView;

/// Whether a neutral-earth contact waits for the report of this contact.
bool a_link_waits_for(const AnalysedSite& site, std::size_t contact) {
  for (const site::Element& element : site.site.elements) {
    const auto* link = site::facts<site::Bond>(element);
    if (link != nullptr && link->proved_by && std::ranges::count(*link->proved_by, contact) > 0)
      return true;
    const auto* inverter = site::facts<site::Inverter>(element);
    if (inverter != nullptr && inverter->bond == site::BondContact::closes_in_island &&
        std::ranges::count(inverter->synchronises_at, contact) > 0)
      return true;
  }
  return false;
}

void judge_latching(const AnalysedSite& site, std::size_t element, const site::Device& device,
                    std::vector<Verdict>& verdicts) {
  const Subject subject = site.about(element);
  if (device.latching != true || device.feedback == true) {
    verdicts.push_back(holds(subject));
  } else if (!device.feedback) {
    verdicts.push_back(open(
        subject, fmt::format("whether '{}' reports where it really stands", site.name(element)),
        fmt::format("'with feedback' of '{}'", site.name(element))));
  } else {
    verdicts.push_back(
        broken(subject,
               fmt::format("'{}' keeps its position without power and does not report it",
                           site.name(element)),
               "fit one with feedback that its controller reads, or one that falls open"));
  }
}

/// Lines of the supply joined to those of an inverter, were this contact welded in this state.
bool welded_joins(const AnalysedSite& site, const StateView& state, int contact, std::size_t source,
                  std::size_t supply) {
  network::Positions positions = state.positions;
  const auto at = static_cast<std::size_t>(contact);
  if (positions.of[at] != 0) return false;
  positions.of[at] = 1;
  return network::lines_joined(site.network, positions, source, supply);
}

class Welded {
 public:
  explicit Welded(const AnalysedSite& site)
      : site_(site),
        supply_(check::supply_of(site) == site::none
                    ? site::none
                    : network::source_of(site.network, check::supply_of(site))) {}

  void judge(std::vector<Verdict>& verdicts) {
    if (supply_ == site::none) return;
    for (std::size_t s = 0; s < site_.network.sources.size(); ++s)
      for (const int contact : site_.network.sources[s].synchronised_at) {
        const auto& it = site_.network.switches[static_cast<std::size_t>(contact)];
        const auto* device = site::facts<site::Device>(site_.element(it.element));
        if (device == nullptr || std::ranges::count(told_, it.element) > 0) continue;
        if (!alone(contact, s)) continue;
        told_.push_back(it.element);
        tell(it.element, *device, verdicts);
      }
  }

 private:
  bool alone(int contact, std::size_t source) const {
    return std::ranges::any_of(site_.states, [&](const StateView& state) {
      const bool runs =
          std::ranges::count(state.state->running, site_.network.sources[source].element) > 0;
      return runs && !state.supply_runs && welded_joins(site_, state, contact, source, supply_);
    });
  }

  void tell(std::size_t element, const site::Device& device, std::vector<Verdict>& verdicts) const {
    const Subject subject = site_.about(element);
    if (site_.profile.text("grid contacts in series") == "two") {
      verdicts.push_back(
          broken(subject,
                 fmt::format("'{}' alone parts an island from the grid, must be two in series",
                             site_.name(element)),
                 "put a second contactor in series, so that one that welds harms nobody"));
      return;
    }
    if (device.feedback == true || a_link_waits_for(site_, element)) {
      verdicts.push_back(holds(subject));
    } else if (!device.feedback) {
      verdicts.push_back(
          open(subject, fmt::format("whether '{}' is noticed when it welds", site_.name(element)),
               fmt::format("'mirror contact' of '{}'", site_.name(element))));
    } else {
      verdicts.push_back(broken(
          subject,
          fmt::format("'{}' welded feeds a dead grid, and nothing notices", site_.name(element)),
          "fit a mirror contact that the inverter reads, or a second contactor in series"));
    }
  }

  const AnalysedSite& site_;
  std::size_t supply_;
  std::vector<std::size_t> told_;
};

bool grave(const Hazard& hazard) {
  return hazard.sure &&
         (hazard.kind == HazardKind::sources_joined || hazard.kind == HazardKind::dead_supply_fed);
}

/// Hazards that come with the loss of control power, at the device that brings them.
void judge_power_loss(const AnalysedSite& site, std::vector<Verdict>& verdicts) {
  const network::MotionNetwork& motion = check::motion_of(site);
  std::vector<std::size_t> told;
  for (const network::Transition& way : check::transitions_of(site)) {
    if (way.event != network::Event::control_power_lost) continue;
    const auto before =
        network::hazards_in(motion.network, site.site, way.steps.front().situation, {});
    if (std::ranges::any_of(before, grave)) continue;
    for (const network::Step& step : way.steps) {
      const auto now = network::hazards_in(motion.network, site.site, step.situation, {});
      if (step.move.by < 0 || std::ranges::none_of(now, grave)) continue;
      const std::size_t element =
          motion.network.switches[static_cast<std::size_t>(step.move.by)].element;
      if (std::ranges::count(told, element) == 0) {
        told.push_back(element);
        Verdict verdict =
            broken(site.about(element),
                   fmt::format("'{}' joins sources when control power is lost", site.name(element)),
                   "let it fall open without power");
        verdict.notes.push_back(
            {site.element(element).where, fmt::format("{}: {}", network::words_of(site.site, way),
                                                      network::words_of(motion, site.site, step))});
        verdicts.push_back(std::move(verdict));
      }
      break;
    }
  }
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const check::TransferDevice& transfer : check::transfer_devices(site))
    if (transfer.by_controller && transfer.sources.size() > 1)
      judge_latching(site, transfer.element,
                     *site::facts<site::Device>(site.element(transfer.element)), verdicts);
  if (!verdicts.empty()) {
    Welded(site).judge(verdicts);
    judge_power_loss(site, verdicts);
  }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule interlock_powered_and_failsafe{
    .id = "transfer/interlock-powered-and-failsafe",
    .severity = Severity::danger,
    .must_hold =
        "A transfer that loses its control power goes where nothing meets; one that keeps its "
        "position reports it; one welded contact does not feed a dead grid unnoticed.",
    .why =
        "A latching contactor stays where it was through a power cut, and its controller wakes up "
        "believing otherwise.",
    .clauses = {"IEC 60947-6-1", "VDE-AR-N 4105 (coupling switch)", "IEC 62109-2"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {"grid contacts in series"},
    .example = R"(# It latches, and nobody sees where it stands.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P latching, operated: controller, without power: 0, break before make: yes, with feedback: no}
boards:
  +A1:
    feed: [-Q1, -W4 3×10 mm² 5 m]
chains:
  - [supply, -Q11 switch-disconnector 63 A 2P isolating lockable, -Q1:I]
  - [-G2, -Q12 switch-disconnector 63 A 2P isolating lockable, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
