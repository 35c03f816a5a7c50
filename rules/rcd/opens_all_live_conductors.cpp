// Speaks about RCDs that leave the neutral closed where the supply is TT or IT, or where a source
// stands on their load side. An RCD that circuits share with a parallel source is left to
// no-source-on-load-side-of-shared-rcd, which weighs its poles.

#include <algorithm>
#include <map>
#include <string>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

/// Why the neutral has to open, or nothing where it need not.
struct Reason {
  std::string words;
  Note note;
};

bool is_insulated_supply(const AnalysedSite& site, std::size_t source) {
  const auto* supply = site::facts<site::Supply>(site.element(source));
  return supply != nullptr && supply->earthing == site::Earthing::it;
}

/// Why a device on this loop has to open the neutral, or nothing where it need not.
Reason reason_of(const AnalysedSite& site, const network::Loop& loop) {
  const Place where = site.element(loop.source).where;
  if (loop.return_path == network::ReturnPath::through_earth)
    return {"in TT", {where, fmt::format("{} is TT here", check::quoted(site, loop.source))}};
  if (is_insulated_supply(site, loop.source))
    return {"in IT", {where, fmt::format("{} is IT", check::quoted(site, loop.source))}};
  return {};
}

/// RCDs fed through the ground (TT) or from a supply without earth (IT) in some state.
std::map<std::size_t, Reason> from_supply(const AnalysedSite& site) {
  std::map<std::size_t, Reason> reasons;
  for (const network::StateView& state : site.states)
    for (const network::Loop& loop : state.loops) {
      const Reason reason = reason_of(site, loop);
      if (reason.words.empty()) continue;
      for (const network::RcdOnLoop& on : loop.rcds)
        reasons.emplace(on.element, reason);
    }
  return reasons;
}

Reason from_source_below(const AnalysedSite& site,
                         const std::vector<check::SourceBehindRcd>& behind_rcds, std::size_t rcd) {
  for (const check::SourceBehindRcd& behind : behind_rcds) {
    if (behind.rcd != rcd || !check::circuits_sharing(site, behind).empty()) continue;
    const std::string& name = site.name(behind.source);
    return {fmt::format("with '{}' behind it", name),
            {site.element(behind.source).where, fmt::format("'{}' runs in parallel", name)}};
  }
  return {};
}

/// By node: whether a conductor goes on from its element.
std::vector<bool> led_on(const AnalysedSite& site) {
  std::vector<bool> led(site.network.nodes.size(), false);
  for (const network::Edge& edge : site.network.edges)
    for (const std::uint32_t end : {edge.a, edge.b})
      if (site.network.nodes[end].element != edge.element) led[end] = true;
  return led;
}

/// Whether a neutral goes on behind the device; a bar's neutral that ends there does not count.
bool leads_neutral(const AnalysedSite& site, const std::vector<bool>& led, std::size_t rcd) {
  const std::uint32_t below = site.network.node(rcd, 1, site::Conductor::n);
  return below != network::no_node && led[below];
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const auto behind = check::sources_behind_rcds(site);
  const auto supplied = from_supply(site);
  const std::vector<bool> led = led_on(site);
  const site::Conductors neutral{site::Conductor::n};
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    if (check::residual(site, e) == nullptr || !leads_neutral(site, led, e)) continue;
    const auto known = supplied.find(e);
    Reason reason = known != supplied.end() ? known->second : from_source_below(site, behind, e);
    const network::Broken poles = network::broken_by(site.element(e));
    if (reason.words.empty()) {
      verdicts.push_back(not_relevant(site.about(e)));
    } else if (!(poles.undecided & neutral).empty()) {
      verdicts.push_back(open(site.about(e),
                              fmt::format("whether '{}' opens the neutral", site.name(e)),
                              fmt::format("poles of '{}' (device: … 1P+N, 2P, 4P)", site.name(e))));
    } else if (!(poles.opened & neutral).empty()) {
      verdicts.push_back(holds(site.about(e)));
    } else {
      Verdict verdict =
          broken(site.about(e),
                 fmt::format("'{}' leaves N closed {}, must open it", site.name(e), reason.words),
                 "fit an RCD whose poles include the neutral: 1P+N, 2P or 4P");
      verdict.notes.push_back(std::move(reason.note));
      verdict.edits = {check::poles_with_neutral(site, e)};
      verdicts.push_back(std::move(verdict));
    }
  }
  return verdicts;
}

}  // namespace

extern const check::Rule opens_all_live_conductors{
    .id = "rcd/opens-all-live-conductors",
    .severity = Severity::danger,
    .must_hold =
        "Where a source exists behind an RCD, or the supply is TT or IT, the RCD opens the "
        "neutral as well as the lines.",
    .why =
        "Through a neutral left closed a source behind the RCD keeps a circuit alive that is "
        "referred to earth, and a neutral can itself be dangerous in TT and IT.",
    .clauses = {"IEC 60364-5-53 531.3.1", "IEC 60364-5-55 551.7.1", "BS 7671 531.3",
                "BS 7671 551.7.1"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(site: {name: Solid neutral in TT}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TT}
earthing: {electrodes: {-XE1: 50 ohm}}
boards:
  +A1:
    feed: [supply, -W1 2×16 mm² 3 m double insulated, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P 30 mA type A 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
