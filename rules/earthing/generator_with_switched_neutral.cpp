// A generator whose neutral is switched is a source of its own, with one link on its own side.
//
// Speaks of zones that a generator forms while the supply's neutral is open: no link, a link
// behind the transfer, or a frame that is not on the main earthing terminal. Several links are left
// to one-neutral-bond-per-state; the electrode to supplier-earth-not-relied-on. Where the country
// keeps the main neutral joined: neutral-continuity-where-the-country-asks. A set meant for single
// items is left to floating-set-feeds-no-fixed-wiring, one that is unearthed on purpose to
// it-island-needs-monitor.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/causes.hpp"
#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/unearthed.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::Zone;

Verdict without_link(const AnalysedSite& site, const StateView& state, const Zone& zone,
                     std::size_t generator) {
  const Subject where = site.about(generator, &state);
  for (const network::BondPoint& bond : zone.undecided_bonds) {
    if (bond.suppliers)
      return open(where, "whether the supply's neutral stays joined on the generator",
                  "poles of what changes over to the generator");
    return open(
        site.about(bond.element, &state),
        fmt::format("whether '{}' joins the generator's neutral to earth", site.name(bond.element)),
        fmt::format("'neutral' or position of '{}'", site.name(bond.element)));
  }
  Verdict verdict =
      broken(where, "the generator's neutral has no joint to earth, must be 1",
             fmt::format("join neutral to earth once, at '{}' or on its side of the transfer",
                         site.name(generator)));
  verdict.notes =
      check::circuits_by_board(site, check::loads_of(state, zone), "an earth fault trips nothing");
  return mended_by(std::move(verdict), check::on_the_supply(site, generator)
                                           ? std::vector<Edit>{}
                                           : check::own_joint(site, generator));
}

/// A position that the state names although the inverter moves its contact by itself.
bool is_claimed(const StateView& state, std::size_t element) {
  return std::ranges::any_of(state.state->positions, [&](const site::PositionOf& it) {
    return it.element == element && it.part == "bond";
  });
}

Verdict judge_link(const AnalysedSite& site, const StateView& state, const Zone& zone,
                   std::size_t generator) {
  if (zone.bonds.empty()) return without_link(site, state, zone, generator);
  const Subject where = site.about(generator, &state);
  if (zone.bonds.size() > 1) return not_relevant(where);
  const network::BondPoint& bond = zone.bonds.front();
  if (is_claimed(state, bond.element)) return not_relevant(where);
  if (check::source_beside(site, state, bond) == generator) return holds(where);
  Verdict verdict = broken(
      site.about(bond.element, &state),
      fmt::format("'{}' is not on the generator's side of the transfer", site.name(bond.element)),
      fmt::format("move the link to '{}' or to the transfer's terminals on its "
                  "side",
                  site.name(generator)));
  verdict.severity = Severity::breach;
  return verdict;
}

void judge_zone(const AnalysedSite& site, const StateView& state, const Zone& zone,
                std::size_t generator, std::vector<Verdict>& verdicts) {
  const Subject where = site.about(generator, &state);
  const bool elsewhere =
      !zone.has_neutral || zone.supply_neutral || check::neutral_stays_joined(site);
  const check::Separated separated = check::separated(site, state, zone);
  if (elsewhere || separated == check::Separated::yes || check::runs_as_it(site, zone) ||
      check::meant_for_items(site, state, zone)) {
    verdicts.push_back(not_relevant(where));
    return;
  }
  const bool framed = network::on_main_terminal(site.network, site.site, generator);
  // A link in a set that is cut off from the site's earth is no link; the missing earth is the
  // cause.
  const auto* facts = site::facts<site::Generator>(site.element(generator));
  if (framed || !zone.bonds.empty() || facts->neutral != site::NeutralLink::fixed)
    verdicts.push_back(judge_link(site, state, zone, generator));
  if (!framed && separated == check::Separated::no)
    verdicts.push_back(broken(where, "the generator's frame is not on the main earthing terminal",
                              fmt::format("join the frame of '{}' to the main earthing terminal "
                                          "('earth' of '{}')",
                                          site.name(generator), site.name(generator))));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    for (const Zone& zone : state.zones)
      for (const std::size_t source : zone.sources)
        if (site::facts<site::Generator>(site.element(source)) != nullptr)
          judge_zone(site, state, zone, source, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule generator_with_switched_neutral{
    .id = "earthing/generator-with-switched-neutral",
    .severity = Severity::danger,
    .must_hold =
        "A generator whose neutral is switched has one neutral-earth link on its own side "
        "and its frame on the main earthing terminal.",
    .why =
        "A generator with a floating winding gives no fault current: RCDs behind it are "
        "decoration.",
    .clauses = {"IEC 60364-5-55 551.4.3.2", "BS 7671 551.4.3.2.1", "BS 7430"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island"},
    .example = R"(# A four-pole changeover, and the set as delivered: floating.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: floating, fixed: yes, own rcd: no}
devices:
  -Q1: changeover I-0-II 63 A 4P by hand
boards:
  +A1: {feed: [-Q1]}
chains:
  - [supply, -W1 5×16 mm² 5 m, -Q1:I]
  - [-G2, -W2 5×10 mm² 20 m, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
