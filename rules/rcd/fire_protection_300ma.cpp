// Speaks of circuits and boards that say `fire risk: yes`. A circuit needs an RCD of at most the
// profile's limit ahead of it; a board one ahead of its feed, so that the way there is covered too.
// Where neither a circuit without such an RCD nor its board says anything, it is a question for the
// site.

#include <algorithm>
#include <map>
#include <optional>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Loop;
using network::StateView;

/// Board that a circuit leaves, or none.
std::size_t board_of(const AnalysedSite& site, const Loop& loop) {
  for (auto guard = loop.line_guards.rbegin(); guard != loop.line_guards.rend(); ++guard)
    if (site.element(*guard).assembly != site::none) return site.element(*guard).assembly;
  return site::none;
}

enum class Risk { none, circuit, board };

Risk risk_of(const AnalysedSite& site, const Loop& loop) {
  const std::size_t board = board_of(site, loop);
  if (board != site::none && site.site.assemblies[board].fire_risk == true) return Risk::board;
  const auto& load = std::get<site::LoadGroup>(site.element(loop.load).facts);
  return load.fire_risk == true ? Risk::circuit : Risk::none;
}

/// The smallest rated residual current among the devices that cover the way; or which is unknown.
struct Cover {
  std::optional<Current> least;
  std::size_t unrated = site::none;
};

Cover cover_of(const AnalysedSite& site, const Loop& loop, Risk risk) {
  Cover cover;
  const std::size_t board = board_of(site, loop);
  for (const network::RcdOnLoop& rcd : loop.rcds) {
    const bool inside = site.element(rcd.element).assembly == board;
    if (!rcd.sees || (risk == Risk::board && inside)) continue;
    const auto rated = check::residual(site, rcd.element)->operating_current;
    if (!rated)
      cover.unrated = rcd.element;
    else if (!cover.least || *rated < *cover.least)
      cover.least = rated;
  }
  return cover;
}

/// Where a finding stands: at the board for all its circuits, else at the circuit's device.
struct Spot {
  Subject subject;
  std::string name;
};

Spot spot_of(const AnalysedSite& site, const Loop& loop, const StateView& state, Risk risk) {
  if (risk == Risk::board) {
    const site::Assembly& board = site.site.assemblies[board_of(site, loop)];
    return {{board.where, board.designation, state.name()},
            fmt::format("the way to '{}'", board.designation)};
  }
  return {site.about(check::circuit_device(loop), &state),
          fmt::format("'{}'", check::circuit_name(site, loop.load))};
}

Verdict judge(const AnalysedSite& site, const StateView& state, const Loop& loop, Risk risk,
              Current limit) {
  const Spot spot = spot_of(site, loop, state, risk);
  const Cover cover = cover_of(site, loop, risk);
  if (cover.least && *cover.least <= limit) return holds(spot.subject);
  if (cover.unrated != site::none)
    return open(spot.subject, fmt::format("whether {} is protected against fire", spot.name),
                fmt::format("residual operating current of '{}' (device: … 300 mA)",
                            site.name(cover.unrated)));
  return broken(spot.subject, fmt::format("{} has no RCD of {} or less", spot.name, limit),
                "fit one at the head of this way, delayed if others follow it");
}

/// Whether the file says of a circuit, or of its board, that there is such a risk or none.
bool said_of(const AnalysedSite& site, const Loop& loop) {
  const std::size_t board = board_of(site, loop);
  const auto& load = std::get<site::LoadGroup>(site.element(loop.load).facts);
  return load.fire_risk || (board != site::none && site.site.assemblies[board].fire_risk);
}

/// The first circuit without any RCD of at most that much, of which nothing is said; or null.
const Loop* first_to_ask(const AnalysedSite& site, Current limit) {
  for (const StateView& state : site.states)
    for (const Loop& loop : state.loops) {
      const Cover cover = cover_of(site, loop, Risk::circuit);
      const bool covered = cover.least && *cover.least <= limit;
      if (!covered && !said_of(site, loop)) return &loop;
    }
  return nullptr;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const auto limit = site.profile.current("rcd against fire");
  if (!limit) return verdicts;
  for (const StateView& state : site.states)
    for (const Loop& loop : state.loops) {
      const Risk risk = risk_of(site, loop);
      if (risk != Risk::none) verdicts.push_back(judge(site, state, loop, risk, *limit));
    }
  const Loop* loop = first_to_ask(site, *limit);
  if (loop != nullptr)
    verdicts.push_back(
        asks(site.about(check::circuit_device(*loop)),
             "whether a circuit without RCD runs through barns, timber or to outbuildings",
             fmt::format("none does, or it has an RCD of {} or less (fire risk)", *limit)));
  return verdicts;
}

}  // namespace

extern const check::Rule fire_protection_300ma{
    .id = "rcd/fire-protection-300ma",
    .severity = Severity::advice,
    .must_hold =
        "Where earth leakage can set fire (barns, timber buildings, long feeders to outbuildings) "
        "an RCD of at most 300 mA covers the way there in each state.",
    .why = "A leaking spot of 60 to 100 W is enough to ignite; 300 mA at 230 V are 69 W.",
    .clauses = {"IEC 60364-4-42 422.3.9", "NF C 15-100 422.1.7"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"rcd against fire"},
    .example = R"(site: {name: Barn without an RCD ahead}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Barn, feeds: +A2, device: C32 2P 6 kA, cable: 3×10 mm² 40 m}
  +A2:
    fire risk: yes
    circuits:
      - {id: -F2, name: Sockets, device: B16 1P+N 30 mA type A 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
