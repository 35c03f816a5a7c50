// A neutral-earth contact without power does no harm in any state in which what drives it is off.
//
// For every state, each source that drives a neutral-earth contact (its own, or the coil of a link)
// is taken to be off: its contacts and the coils that it drives drop to their rest, other inverters
// follow. Then the joints are counted. Speaks of contacts that are a second joint for want of
// power, also where a named state already shows it (most of all a bypass with the inverter off),
// and of circuits that others keep alive without the joint that was lost. A contact that the file
// itself puts on the grid is left to the rules that count joints; a site without a second source
// that could keep anything alive has nothing to lose.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/unearthed.hpp"
#include "check/unpowered.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::DrivenContact;
using network::StateView;
using network::Zone;

bool has(const std::vector<network::BondPoint>& bonds, std::size_t element) {
  return std::ranges::any_of(
      bonds, [&](const network::BondPoint& bond) { return bond.element == element; });
}

std::string key_of_rest(const AnalysedSite& site, const DrivenContact& it) {
  return fmt::format("'{}' of '{}'", it.inner ? "bond rest" : "rest", site.name(it.contact));
}

Verdict second_joint(const AnalysedSite& site, const StateView& state, const DrivenContact& it) {
  const std::string& contact = site.name(it.contact);
  Verdict verdict = broken(
      site.about(it.contact, &state),
      fmt::format("'{}' without power joins neutral to earth a second time", contact),
      fmt::format("let '{}' rest open, or take its neutral from a place that the bypass and every "
                  "other source are cut off from while '{}' is off",
                  contact, site.name(it.controller)));
  if (!it.inner)
    verdict.notes.push_back({site.element(it.controller).where,
                             fmt::format("'{}' drives it", site.name(it.controller))});
  return verdict;
}

/// Whether what a source feeds had its joint from this contact.
bool had_it(const StateView& state, const Zone& zone, std::size_t contact) {
  return std::ranges::any_of(zone.sources, [&](std::size_t source) {
    const Zone* before = state.zone_of(source);
    return before != nullptr && has(before->bonds, contact);
  });
}

/// A zone of the state as it is with the controller off.
Verdict judge_zone(const AnalysedSite& site, const StateView& state, const StateView& off,
                   const Zone& zone, const DrivenContact& it) {
  const Subject where = site.about(it.contact, &state);
  const bool joints_count = zone.has_neutral;
  if (!joints_count) return not_relevant(where);
  const bool closed = has(zone.bonds, it.contact);
  const bool undecided = has(zone.undecided_bonds, it.contact);
  const bool another = zone.supply_neutral || zone.bonds.size() > (closed ? 1U : 0U);
  if (another && closed) return second_joint(site, state, it);
  if (another && undecided)
    return open(where, fmt::format("where '{}' stands without power", site.name(it.contact)),
                key_of_rest(site, it));
  const bool lost = zone.bonds.empty() && !zone.supply_neutral && had_it(state, zone, it.contact) &&
                    !check::loads_of(off, zone).empty();
  if (!lost || check::neutral_stays_joined(site)) return holds(where);
  if (check::separated(site, off, zone) == check::Separated::yes || check::runs_as_it(site, zone))
    return not_relevant(where);
  if (undecided || !zone.undecided_bonds.empty())
    return open(where, fmt::format("where '{}' stands without power", site.name(it.contact)),
                key_of_rest(site, it));
  return broken(where,
                fmt::format("with '{}' off, {} feeds on without a joint of neutral and earth",
                            site.name(it.controller), check::quoted(site, zone.sources)),
                fmt::format("let the joint hang on the open grid contacts themselves and not on "
                            "'{}', or let the others stop with it",
                            site.name(it.controller)));
}

/// The gravest of the verdicts on the zones.
Verdict judge(const AnalysedSite& site, const StateView& state, const DrivenContact& it) {
  const Subject where = site.about(it.contact, &state);
  const site::State changed = check::without_controller(site, state, it.controller);
  const StateView off = network::view(site.network, site.site, changed);
  std::vector<Verdict> all;
  for (const Zone& zone : off.zones)
    all.push_back(judge_zone(site, state, off, zone, it));
  for (const Outcome outcome : {Outcome::broken, Outcome::open, Outcome::holds})
    for (const Verdict& verdict : all)
      if (verdict.outcome == outcome) return verdict;
  return not_relevant(where);
}

/// Whether another rule speaks of the contact in this state as it is named.
bool told_elsewhere(const AnalysedSite& site, const StateView& state, const DrivenContact& it) {
  for (const Zone& zone : state.zones) {
    for (const check::SecondBond& second : check::second_bonds(site, state, zone))
      if (second.bond.element == it.contact &&
          second.cause != check::SecondBondCause::without_power)
        return true;
    const bool several = !zone.supply_neutral && zone.bonds.size() > 1;
    if (several && has(zone.bonds, it.contact) &&
        !check::closed_for_want_of_power(site, state, it.contact))
      return true;
  }
  return false;
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const DrivenContact& it : check::driven_contacts(site))
    for (const StateView& state : site.states) {
      if (state.zones.empty() || told_elsewhere(site, state, it))
        verdicts.push_back(not_relevant(site.about(it.contact, &state)));
      else
        verdicts.push_back(judge(site, state, it));
    }
  return verdicts;
}

}  // namespace

extern const check::Rule bond_relay_rest_position{
    .id = "earthing/bond-relay-rest-position",
    .severity = Severity::danger,
    .must_hold =
        "While what drives it is off, a neutral-earth contact at rest neither joins a live neutral "
        "to earth a second time nor leaves one unjoined.",
    .why =
        "Many such contacts close when they lose power. With the inverter off and the loads on "
        "bypass, that is a second joint on the live network, and nothing shows it.",
    .clauses = {"IEC 60364-5-55 551.4.3.2 (follows from it)", "IEC 60364-8-82"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {"neutral in island"},
    .example =
        R"(# -T1 drives the link. With -T1 off it closes, and -T2 still leads the supply's neutral to it.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing:
  electrodes: {-XE1: 20 ohm}
  links:
    -X5: {at: -WB2, contact: yes, rest: closed, closed in: [island], proved by: [-T1, -T2], driven by: -T1, size: 6 mm²,
          power contact: yes, withstands: 1 kA for 1 s}
types:
  five kVA: {kind: hybrid, backup side: yes, neutral in island: opened, bond: none, fault current: 44 A for 0.2 s}
inverters:
  -T1: {use: five kVA}
  -T2: {use: five kVA}
synchronised: [[-T1, -T2]]
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 5 m]}
  +A3:
    feed: [-WB2]
    circuits:
      - {id: -F31, name: Lights, device: B10 1P+N 30 mA type A two-way, cable: 3×1.5 mm² 9 m, use: lighting}
assemblies:
  +A2: {busbars: {-WB2: 63 A}}
chains:
  - [A1, -W2 3×6 mm² 3 m, -T1:ac]
  - [A1, -W4 3×6 mm² 3 m, -T2:ac]
  - [-T1:backup, -W5 3×6 mm² 3 m, -WB2]
  - [-T2:backup, -W6 3×6 mm² 3 m, -WB2]
states:
  grid: {}
  island: {running: [-T1, -T2]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
