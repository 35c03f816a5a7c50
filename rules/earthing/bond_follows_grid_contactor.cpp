// A neutral-earth contact closes only once the supply's neutral is proved open.
//
// Speaks of how a contact is kept from closing too early and from opening too late, step by step
// between the named states, and of how long neither its joint nor the supply's is there. A link
// that falls only while the contactor that proves it closes is advice: both are there for
// milliseconds. A contact that a named state already has closed on the grid is left to the rules
// that count joints. An inverter whose grid contact and neutral-earth contact are both inside it is
// one tested function, as its maker declares it.
#include <algorithm>
#include <optional>
#include <vector>

#include <fmt/core.h>

#include "check/later.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "network/neutral_paths.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

/// What keeps a contact from closing: elements held open while it is closed.
struct Interlocking {
  std::vector<bool> hard;  ///< by lever, key or wiring
  bool software = false;
};

Interlocking interlocks_of(const AnalysedSite& site, std::size_t bond) {
  Interlocking found{.hard = std::vector<bool>(site.site.elements.size(), false)};
  for (const site::Interlock& lock : site.site.interlocks) {
    const bool about_bond = std::ranges::any_of(lock.never_together, [&](const auto& position) {
      return position.element == bond && position.position != "open";
    });
    if (!about_bond) continue;
    const bool by_software =
        lock.means == site::InterlockMeans::control || lock.means == site::InterlockMeans::unknown;
    if (by_software) found.software = true;
    for (const auto& position : lock.never_together) {
      if (position.element == bond) continue;
      if (!by_software) found.hard[position.element] = true;
    }
  }
  return found;
}

Verdict judge_proofs(const AnalysedSite& site, std::size_t bond,
                     const std::vector<std::size_t>& proved, std::vector<bool> held) {
  const Subject where = site.about(bond);
  const std::uint32_t joint = network::bond_edge(site.network, bond)->a;
  const std::uint32_t supply = network::source_neutral(site.network, check::supply_of(site));
  const std::vector<bool> by_lock = held;
  for (const std::size_t contact : proved)
    held[contact] = true;
  if (network::can_join(site.network, supply, joint, held))
    return broken(
        where,
        fmt::format("the supply's neutral reaches '{}' past what is proved open", site.name(bond)),
        fmt::format("prove every contact open that parts '{}' from the supply's neutral",
                    site.name(bond)));
  for (const std::size_t contact : proved) {
    const auto* device = site::facts<site::Device>(site.element(contact));
    if (by_lock[contact] || device == nullptr) continue;
    if (!device->feedback)
      return open(where, fmt::format("whether '{}' reports that it is open", site.name(contact)),
                  fmt::format("'mirror contact' of '{}'", site.name(contact)));
    if (!*device->feedback)
      return mended_by(
          broken(where,
                 fmt::format("'{}' has no mirror contact to prove it open", site.name(contact)),
                 fmt::format("lead the coil of '{}' through a mirror contact of '{}'",
                             site.name(bond), site.name(contact))),
          {KeyValue{site.name(contact), "mirror contact", "yes"}});
  }
  return holds(where);
}

Verdict judge_link(const AnalysedSite& site, std::size_t bond, const site::Bond& link) {
  const Interlocking locks = interlocks_of(site, bond);
  const std::uint32_t joint = network::bond_edge(site.network, bond)->a;
  const std::uint32_t supply = network::source_neutral(site.network, check::supply_of(site));
  if (!network::can_join(site.network, supply, joint, locks.hard)) return holds(site.about(bond));
  if (link.proved_by) return judge_proofs(site, bond, *link.proved_by, locks.hard);
  if (locks.software)
    return broken(site.about(bond),
                  fmt::format("software alone keeps '{}' open on the grid", site.name(bond)),
                  fmt::format("lead the coil of '{}' through a mirror contact of what opens the "
                              "supply's neutral",
                              site.name(bond)));
  return open(site.about(bond),
              fmt::format("what keeps '{}' open until the supply's neutral is", site.name(bond)),
              fmt::format("'proved by' of '{}'", site.name(bond)));
}

Verdict judge_inverter(const AnalysedSite& site, std::size_t inverter,
                       const site::Inverter& facts) {
  if (site.network.find_switch(inverter, "transfer") >= 0) return holds(site.about(inverter));
  if (facts.synchronises_at.empty())
    return open(site.about(inverter),
                fmt::format("which contact '{}' waits for before it joins neutral to earth",
                            site.name(inverter)),
                fmt::format("'synchronises at' of '{}'", site.name(inverter)));
  return judge_proofs(site, inverter, facts.synchronises_at,
                      std::vector<bool>(site.site.elements.size(), false));
}

/// None where the element has no neutral-earth contact that moves.
std::optional<Verdict> judge(const AnalysedSite& site, std::size_t element) {
  const network::Edge* joint = network::bond_edge(site.network, element);
  if (joint == nullptr || joint->by == network::fixed) return std::nullopt;
  const std::size_t supply = check::supply_of(site);
  if (supply == site::none || check::closed_on_grid(site, element))
    return not_relevant(site.about(element));
  if (!network::can_join(site.network, network::source_neutral(site.network, supply), joint->a, {}))
    return holds(site.about(element));
  if (const auto* link = site::facts<site::Bond>(site.element(element)))
    return judge_link(site, element, *link);
  if (const auto* inverter = site::facts<site::Inverter>(site.element(element)))
    return judge_inverter(site, element, *inverter);
  return std::nullopt;
}

/// A step between named states at which a link has not followed yet.
struct LateStep {
  const network::Transition* transition = nullptr;
  const network::Step* step = nullptr;
};

/// The steps of links that are proved by contacts, looked at with their hazards.
class Timing {
 public:
  explicit Timing(const AnalysedSite& site)
      : site_(site), motion_(check::motion_of(site)), transitions_(check::transitions_of(site)) {}

  /// What the timing of one link adds, which otherwise is kept as it should be.
  std::vector<Verdict> judge(std::size_t element, const site::Bond& link) const {
    std::vector<Verdict> verdicts;
    const auto own = [&](const network::Step& step) { return moves_proof(step, link); };
    if (const auto late = first(element, network::HazardKind::neutral_bonded_twice, own))
      verdicts.push_back(opens_late(element, *late));
    const auto any = [](const network::Step&) { return true; };
    if (const auto gap = first(element, network::HazardKind::neutral_without_bond, any))
      if (auto verdict = judge_gap(element, link, *gap)) verdicts.push_back(std::move(*verdict));
    return verdicts;
  }

 private:
  template <class Wanted>
  std::optional<LateStep> first(std::size_t element, network::HazardKind kind,
                                Wanted wanted) const {
    const int link = site_.network.find_switch(element);
    for (const network::Transition& transition : transitions_)
      for (const network::Step& step : transition.steps)
        if (step.kind == network::StepKind::link_late && step.link == link && wanted(step) &&
            has(step, kind))
          return LateStep{&transition, &step};
    return std::nullopt;
  }

  /// Whether the device that moves at this step is one whose mirror contact holds the link.
  bool moves_proof(const network::Step& step, const site::Bond& link) const {
    if (step.move.by < 0 || !link.proved_by) return false;
    const auto moved = static_cast<std::size_t>(step.move.by);
    return std::ranges::count(*link.proved_by, site_.network.switches[moved].element) > 0;
  }

  bool has(const network::Step& step, network::HazardKind kind) const {
    const auto hazards = network::hazards_in(motion_.network, site_.site, step.situation, {});
    return std::ranges::any_of(
        hazards, [&](const network::Hazard& hazard) { return hazard.kind == kind && hazard.sure; });
  }

  const std::string& moved(const LateStep& late) const {
    const network::Move& move = late.step->move;
    return site_.name(move.by < 0
                          ? site_.network.sources[move.source].element
                          : site_.network.switches[static_cast<std::size_t>(move.by)].element);
  }

  Note where(const LateStep& late, std::size_t element) const {
    return {site_.element(element).where,
            fmt::format("{}: {}", network::words_of(site_.site, *late.transition),
                        network::words_of(motion_, site_.site, *late.step))};
  }

  Verdict opens_late(std::size_t element, const LateStep& late) const {
    const std::string& link = site_.name(element);
    const std::string& device = moved(late);
    Verdict verdict = broken(
        site_.about(element), fmt::format("'{}' is still closed when '{}' closes", link, device),
        fmt::format("lead the coil of '{}' through a mirror contact of '{}'", device, link));
    verdict.severity = Severity::advice;  // it lasts as long as a relay takes to fall
    verdict.notes.push_back(where(late, element));
    return verdict;
  }

  std::optional<Verdict> judge_gap(std::size_t element, const site::Bond& link,
                                   const LateStep& gap) const {
    const std::optional<Time> most = site_.profile.time("disconnection final TN");
    if (!most) return std::nullopt;
    if (!link.closes_within)
      return asks(site_.about(element),
                  fmt::format("how long after '{}' has moved is '{}' closed", moved(gap),
                              site_.name(element)),
                  fmt::format("{} or less", print(*most)));
    if (*link.closes_within <= *most) return std::nullopt;
    Verdict verdict =
        broken(site_.about(element),
               fmt::format("'{}' closes after {}, must be within {}", site_.name(element),
                           print(*link.closes_within), print(*most)),
               "fit a relay that follows faster: until then no fault to earth is disconnected");
    verdict.notes.push_back(where(gap, element));
    return verdict;
  }

  const AnalysedSite& site_;
  const network::MotionNetwork& motion_;
  const std::vector<network::Transition>& transitions_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  std::optional<Timing> timing;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    auto verdict = judge(site, e);
    if (!verdict) continue;
    const auto* link = site::facts<site::Bond>(site.element(e));
    const bool kept = verdict->outcome == Outcome::holds;
    verdicts.push_back(std::move(*verdict));
    if (!kept || link == nullptr || !link->proved_by) continue;
    if (!timing) timing.emplace(site);
    for (Verdict& more : timing->judge(e, *link))
      verdicts.push_back(std::move(more));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule bond_follows_grid_contactor{
    .id = "earthing/bond-follows-grid-contactor",
    .severity = Severity::danger,
    .must_hold =
        "A neutral-earth contact closes only after the supply's neutral has opened, soon after, "
        "and opens before it closes again, kept so by more than software.",
    .why =
        "Overlap bonds a live network twice; a stuck contactor with a closed link ties the "
        "street's neutral to the house earth.",
    .clauses = {"IEC 60364-5-55 551.4, 551.6", "IEC 60364-8-82", "VDE-AR-E 2510-2 6.410.2",
                "IEC 60947-4-1 Annex F (mirror contacts)"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"disconnection final TN"},
    .example = R"(# The contactor that opens the grid cannot report that it is open.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: A2, contact: yes, rest: open, closed in: [island], proved by: [-Q1]}
inverters:
  -T1: {kind: battery, grid: forming, bond: none, synchronises at: [-Q1]}
devices:
  -Q1: {device: contactor 63 A 2P, mirror contact: no}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m, -Q10 switch-disconnector 63 A 2P isolating lockable]}
  +A2: {feed: [A1, -W2 3×6 mm² 3 m, -Q1]}
chains:
  - [-T1:ac, -W3 3×6 mm² 3 m, -Q12 switch-disconnector 63 A 2P isolating lockable, A2]
states:
  grid: {-Q1: closed}
  island: {-Q1: open, running: [-T1]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
