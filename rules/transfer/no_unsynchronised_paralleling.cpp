// Speaks of sources that meet out of step in a named state. Bypass states in which a source meets
// the outputs of inverters are left to bypass-isolates-the-inverter-output and
// bypass-all-inverters-together; a supply that does not run and is fed is left to
// no-backfeed-to-dead-grid; positions that no state names are left to interlock-by-construction.
#include <algorithm>
#include <set>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Clash;
using network::StateView;

bool is_inverter(const AnalysedSite& site, std::size_t element) {
  return site::facts<site::Inverter>(site.element(element)) != nullptr;
}

bool left_to_bypass_rules(const AnalysedSite& site, const StateView& state, const Clash& clash) {
  return state.state->kind == site::StateKind::bypass &&
         is_inverter(site, clash.source_a) != is_inverter(site, clash.source_b);
}

/// Inverters that run joined without a set meet here only over each other's contacts: that they
/// lack a set is told of the state in which they meet each other.
bool told_by_missing_set(const AnalysedSite& site, const StateView& state, const Clash& clash) {
  const network::Network& net = site.network;
  const std::size_t a = network::source_of(net, clash.source_a);
  const std::size_t b = network::source_of(net, clash.source_b);
  std::set<int> contacts = network::contacts_in_step(net, a, b);
  for (const StateView& other : site.states)
    for (const Clash& met : other.clashes) {
      const bool same_inverter = met.source_a == clash.source_b || met.source_b == clash.source_b;
      if (&other == &state || !same_inverter || !is_inverter(site, met.source_a) ||
          !is_inverter(site, met.source_b))
        continue;
      contacts.merge(network::contacts_in_step(net, network::source_of(net, met.source_a),
                                               network::source_of(net, met.source_b)));
    }
  return !network::lines_joined(net, network::with_open(net, state.positions, contacts), a, b);
}

/// Groups of sources that meet; whoever meets one of a group belongs to it. One cause, one group.
std::vector<std::vector<std::size_t>> meetings(const AnalysedSite& site, const StateView& state) {
  std::vector<std::vector<std::size_t>> groups;
  for (const Clash& clash : state.clashes) {
    if (left_to_bypass_rules(site, state, clash) || told_by_missing_set(site, state, clash))
      continue;
    auto group = std::ranges::find_if(groups, [&](const auto& it) {
      return std::ranges::count(it, clash.source_a) + std::ranges::count(it, clash.source_b) > 0;
    });
    if (group == groups.end()) group = groups.insert(groups.end(), {clash.source_a});
    for (const std::size_t source : {clash.source_a, clash.source_b})
      if (std::ranges::count(*group, source) == 0) group->push_back(source);
  }
  return groups;
}

/// Contacts named as closing in step that a hand can close as well: they are not trusted.
std::vector<std::size_t> closed_by_hand_too(const AnalysedSite& site,
                                            const std::vector<std::size_t>& sources) {
  std::vector<std::size_t> contacts;
  for (const std::size_t source : sources) {
    const auto* inverter = site::facts<site::Inverter>(site.element(source));
    if (inverter == nullptr) continue;
    for (const std::size_t contact : inverter->synchronises_at) {
      const auto* device = site::facts<site::Device>(site.element(contact));
      if (device != nullptr && !site::closed_by_controller_only(*device) &&
          std::ranges::count(contacts, contact) == 0)
        contacts.push_back(contact);
    }
  }
  return contacts;
}

Verdict out_of_step(const AnalysedSite& site, const StateView& state,
                    const std::vector<std::size_t>& sources) {
  Verdict verdict = broken(
      site.about(sources.back(), &state),
      fmt::format("{} meet on one conductor out of step", check::quoted(site, sources)),
      "part them by a changeover, or name the contact that closes in step ('synchronises at') "
      "or the set they run in ('synchronised')");
  for (const std::size_t source : sources)
    if (source != sources.back())
      verdict.notes.push_back(
          {site.element(source).where, fmt::format("{} runs here", check::quoted(site, source))});
  const auto contacts = closed_by_hand_too(site, sources);
  for (const std::size_t contact : contacts)
    verdict.notes.push_back(
        {site.element(contact).where,
         fmt::format("a hand can close {}, in step or not", check::quoted(site, contact))});
  if (!contacts.empty())
    verdict.mend = fmt::format(
        "take {} as closed 'by controller' only, its handle locked or none, so that only what "
        "watches both sides closes it",
        check::quoted(site, contacts));
  return verdict;
}

bool runs_forming(const StateView& state, const network::SourcePoint& source) {
  return source.forming && check::runs(state, source.element);
}

/// Running forming sources of no common set that are joined only over what the file leaves open.
std::optional<Verdict> undecided(const AnalysedSite& site, const StateView& state) {
  const auto& sources = site.network.sources;
  for (std::size_t a = 0; a < sources.size(); ++a)
    for (std::size_t b = a + 1; b < sources.size(); ++b) {
      const bool one_set = sources[a].set >= 0 && sources[a].set == sources[b].set;
      if (one_set || !runs_forming(state, sources[a]) || !runs_forming(state, sources[b])) continue;
      const auto from = network::line_nodes(site.network, a);
      const auto to = network::line_nodes(site.network, b);
      if (network::any_joined(state, from, to) || !network::any_possibly_joined(state, from, to))
        continue;
      return open(site.about(sources[b].element, &state),
                  fmt::format("whether {} and {} meet", check::quoted(site, sources[a].element),
                              check::quoted(site, sources[b].element)),
                  fmt::format("the position of {} in this state",
                              check::quoted(site, check::undecided_elements(site, state))));
    }
  return std::nullopt;
}

void judge(const AnalysedSite& site, const StateView& state, std::vector<Verdict>& verdicts) {
  const auto groups = meetings(site, state);
  for (const auto& group : groups)
    verdicts.push_back(out_of_step(site, state, group));
  if (!groups.empty()) return;
  if (auto verdict = undecided(site, state)) {
    verdicts.push_back(std::move(*verdict));
    return;
  }
  const bool alone = std::ranges::count_if(site.network.sources, [&](const auto& source) {
                       return check::runs(state, source.element);
                     }) < 2;
  verdicts.push_back(alone ? not_relevant(site.about(state)) : holds(site.about(state)));
}

/// An inverter that may or may not make a voltage of its own cannot be judged beside another
/// source.
void judge_unknown_kinds(const AnalysedSite& site, std::vector<Verdict>& verdicts) {
  for (const network::SourcePoint& source : site.network.sources) {
    const auto* inverter = site::facts<site::Inverter>(site.element(source.element));
    if (inverter == nullptr || inverter->has_backup_side || inverter->forming) continue;
    verdicts.push_back(
        open(site.about(source.element),
             fmt::format("whether '{}' follows the other sources", site.name(source.element)),
             fmt::format("'grid' of '{}': forming or following", site.name(source.element))));
  }
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const StateView& state : site.states)
    judge(site, state, verdicts);
  judge_unknown_kinds(site, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule no_unsynchronised_paralleling{
    .id = "transfer/no-unsynchronised-paralleling",
    .severity = Severity::danger,
    .must_hold =
        "Sources that no equipment holds in step never meet on one conductor in any "
        "named state.",
    .why =
        "Closing out of step drives several times the short-circuit current, breaks shafts "
        "and inverters, and can put twice the voltage across one pole.",
    .clauses = {"IEC 60364-5-55 551.6.1", "IEC 60364-5-55 551.7"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# Grid and generator run on one busbar.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
generators:
  -G2: {power: 5 kVA, neutral: floating}
boards:
  +A1:
    feed: [supply, -Q1 switch-disconnector 63 A 2P]
chains:
  - [-G2, -W2 3×6 mm² 9 m, -Q2 switch-disconnector 63 A 2P, A1]
states:
  grid: {running: [supply, -G2]}
)",
    .check = check_site,
};

}  // namespace linewright::rules
