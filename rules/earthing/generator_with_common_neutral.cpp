// A generator on the supply's own neutral has no link of its own.
//
// Speaks of states in which a generator's neutral and the supply's are one. Its own link is this
// rule's where the profile keeps the neutral joined; elsewhere the pole that leads the neutral on
// is at fault and neutral-poles-of-the-transfer speaks. That the neutral is common at all is left
// to transfer/all-live-conductors-isolated-from-grid. Its frame must be on the main earthing
// terminal.
#include <algorithm>
#include <vector>

#include <fmt/core.h>

#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::SecondBond;
using network::StateView;
using network::Zone;

/// What the zone's joints say of one generator's own link.
Verdict judge_link(const AnalysedSite& site, const StateView& state, const Zone& zone,
                   std::size_t generator) {
  const Subject where = site.about(generator, &state);
  for (const SecondBond& it : check::second_bonds(site, state, zone)) {
    if (check::source_beside(site, state, it.bond) != generator) continue;
    const std::string& name = site.name(it.bond.element);
    if (!it.sure)
      return open(where, fmt::format("whether '{}' has a link of its own", name),
                  fmt::format("'neutral' of '{}' (floating, linked)", name));
    if (it.cause != check::SecondBondCause::generator_link) return not_relevant(where);
    return mended_by(broken(site.about(it.bond.element, &state),
                            fmt::format("'{}' has a link of its own on a common neutral", name),
                            fmt::format("take the neutral-earth link of '{}' out; the one at the "
                                        "main switchboard serves",
                                        name)),
                     check::without_joint(site, it.bond.element));
  }
  return holds(where);
}

/// The generator's neutral where only its own lines would be opened.
Verdict left_joined(const AnalysedSite& site, const StateView& state, std::size_t generator) {
  Verdict verdict =
      broken(site.about(generator, &state),
             fmt::format("'{}' stays on the main neutral while it is off", site.name(generator)),
             fmt::format("open the neutral of '{}' with its lines (2P, 4P on its side)",
                         site.name(generator)));
  verdict.severity = Severity::breach;
  return verdict;
}

void judge_generator(const AnalysedSite& site, const StateView& state, std::size_t generator,
                     std::vector<Verdict>& verdicts) {
  const std::uint32_t own = network::source_neutral(site.network, generator);
  const std::uint32_t supply = network::source_neutral(site.network, check::supply_of(site));
  if (!state.joined(own, supply)) return;
  const bool runs = std::ranges::count(state.state->running, generator) > 0;
  if (!runs && site.profile.text("generator transfer poles") == "lines, generator neutral")
    verdicts.push_back(left_joined(site, state, generator));
  for (const Zone& zone : state.zones)
    if (zone.supply_neutral) verdicts.push_back(judge_link(site, state, zone, generator));
  if (!network::on_main_terminal(site.network, site.site, generator))
    verdicts.push_back(broken(
        site.about(generator, &state), "the generator's frame is not on the main earthing terminal",
        fmt::format("join the frame of '{}' to the main earthing terminal ('earth' of '{}')",
                    site.name(generator), site.name(generator))));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const network::SourcePoint& source : site.network.sources) {
    if (site::facts<site::Generator>(site.element(source.element)) == nullptr) continue;
    for (const StateView& state : site.states)
      if (!state.zones.empty()) judge_generator(site, state, source.element, verdicts);
  }
  return verdicts;
}

}  // namespace

extern const check::Rule generator_with_common_neutral{
    .id = "earthing/generator-with-common-neutral",
    .severity = Severity::danger,
    .must_hold =
        "A generator whose neutral the transfer does not switch has no neutral-earth link, "
        "and its frame is on the main earthing terminal.",
    .why =
        "Otherwise neutral current returns over the earth conductor between house and "
        "generator, and RCDs take it for a fault.",
    .clauses = {"IEC 60364-5-55 551.6.2", "AS/NZS 3010"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"neutral in island", "generator transfer poles"},
    .example = R"(# The set came with its factory link; the main neutral is common to both.
profile: AU
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-C-S, pen split: A1}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {neutral: linked, fixed: yes, own rcd: no}
devices:
  -Q1: changeover I-0-II 63 A 3P by hand
  -Q5: switch-disconnector 63 A 4P normally open
boards:
  +A1: {feed: [supply, -W1 4×16 mm² 5 m]}
  +A2: {feed: [-Q1]}
chains:
  - [A1, -W2 5×16 mm² 5 m, -Q1:I]
  - [-G2, -W3 5×10 mm² 20 m, -Q5, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II, -Q5: closed}
interlocks:
  - {never together: [-Q1: I, -Q5: closed], by: mechanical}
)",
    .check = check_site,
};

}  // namespace linewright::rules
