// Speaks of every RCD with something behind it. What the file states counts as stated; for the rest
// the profile has usual values by kind of equipment and for long cables, and a sum that is too high
// only with those is advice. Leakages are added as if they were in phase, which is the safe side
// for circuits on several lines. A missing rated residual current is open.

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using site::Use;

constexpr double hair = 1e-9;  // a sum of stated values need not be the limit to the last bit

std::string_view usual_key(Use use) {
  switch (use) {
    case Use::lighting:
      return "leakage of lighting";
    case Use::ev:
      return "leakage of an EV point";
    case Use::heat_pump:
      return "leakage of a heat pump";
    default:
      return "leakage of an appliance";
  }
}

std::optional<Current> stated(const AnalysedSite& site, std::size_t element) {
  if (const auto* load = site::facts<site::LoadGroup>(site.element(element))) return load->leakage;
  if (const auto* inverter = site::facts<site::Inverter>(site.element(element)))
    return inverter->leakage;
  return std::nullopt;
}

Current usual(const AnalysedSite& site, std::size_t element) {
  const auto* load = site::facts<site::LoadGroup>(site.element(element));
  const auto key = load == nullptr ? "leakage of an inverter" : usual_key(load->use);
  return site.profile.current(key).value_or(Current{});
}

/// What the cables that end at each element add by their length.
std::vector<Current> of_cables(const AnalysedSite& site) {
  const auto per_100_m = site.profile.current("leakage of 100 m of cable");
  std::vector<Current> sums(site.site.elements.size());
  if (!per_100_m) return sums;
  for (const site::Run& run : site.site.runs) {
    if (!run.cable || (run.conductors & site::lines).count() == 0) continue;
    const std::optional<Length>& length = run.cable->length;
    if (!length) continue;
    const Current leak = (*length / Length{100.0}) * *per_100_m;
    sums[run.to.element] += leak;
    if (run.from.element != run.to.element) sums[run.from.element] += leak;
  }
  return sums;
}

/// What leaks behind one RCD.
struct Leak {
  Current stated{};
  Current all{};  ///< with usual values for the rest, and cables
};

Leak leak_of(const AnalysedSite& site, const std::vector<Current>& cables,
             const std::set<std::size_t>& behind) {
  Leak leak;
  for (const std::size_t element : behind) {
    const auto said = stated(site, element);
    leak.stated += said.value_or(Current{});
    leak.all += said.value_or(usual(site, element)) + cables[element];
  }
  return leak;
}

/// Circuits and parallel inverters behind each RCD, by state.
using Behind = std::map<std::size_t, std::map<std::size_t, std::set<std::size_t>>>;

std::size_t index_of(const AnalysedSite& site, const network::StateView* state) {
  return static_cast<std::size_t>(state - site.states.data());
}

Behind behind_rcds(const AnalysedSite& site) {
  Behind behind;
  for (const network::StateView& state : site.states)
    for (const network::Loop& loop : state.loops)
      for (const network::RcdOnLoop& rcd : loop.rcds)
        behind[rcd.element][index_of(site, &state)].insert(loop.load);
  for (const check::SourceBehindRcd& source : check::sources_behind_rcds(site))
    if (site::facts<site::Inverter>(site.element(source.source)) != nullptr)
      behind[source.rcd][index_of(site, source.state)].insert(source.source);
  return behind;
}

Verdict judge(const AnalysedSite& site, std::size_t rcd, const Leak& leak, double share,
              const network::StateView& state) {
  const Subject subject = site.about(rcd, &state);
  const std::string& name = site.name(rcd);
  const auto rated = check::residual(site, rcd)->operating_current;
  if (!rated)
    return open(subject, fmt::format("whether '{}' has room for the leakage behind it", name),
                fmt::format("residual operating current of '{}' (device: … 30 mA)", name));
  const Current limit = share * *rated;
  if (!(leak.all > limit * (1.0 + hair))) return holds(subject);
  const bool sure = leak.stated > limit * (1.0 + hair);
  Verdict verdict =
      broken(subject,
             fmt::format("{} {} behind '{}', must be {} or less",
                         print_rounded(sure ? leak.stated : leak.all, 3),
                         sure ? "leak" : "usually leak", name, print_rounded(limit, 3)),
             "divide these circuits over more RCDs, or give this equipment one of its own");
  if (!sure) verdict.severity = Severity::advice;
  return verdict;
}

void add_notes(const AnalysedSite& site, const std::set<std::size_t>& behind, Verdict& verdict) {
  if (verdict.outcome != Outcome::broken) return;
  for (const std::size_t element : behind) {
    const auto said = stated(site, element);
    verdict.notes.push_back(
        {site.element(element).where,
         fmt::format("'{}' {} {}", check::circuit_name(site, element),
                     said ? "leaks" : "usually leaks", said.value_or(usual(site, element)))});
  }
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const auto share = site.profile.number("leakage share");
  if (!share) return verdicts;
  const std::vector<Current> cables = of_cables(site);
  for (const auto& [rcd, by_state] : behind_rcds(site)) {
    Leak most;
    std::set<std::size_t> worst;
    for (const auto& [state, behind] : by_state) {
      const Leak leak = leak_of(site, cables, behind);
      if (leak.all > most.all || worst.empty()) worst = behind;
      most.stated = std::max(most.stated, leak.stated);
      most.all = std::max(most.all, leak.all);
    }
    for (const auto& [state, behind] : by_state) {
      verdicts.push_back(judge(site, rcd, most, *share, site.states[state]));
      add_notes(site, worst, verdicts.back());
    }
  }
  return verdicts;
}

}  // namespace

extern const check::Rule leakage_budget{
    .id = "rcd/leakage-budget",
    .severity = Severity::breach,
    .must_hold =
        "What leaks to earth in normal use behind one RCD is at most 30 % of its rated residual "
        "current, or the share that the country's rules name.",
    .why =
        "A 30 mA device may trip from 15 mA on: standing leakage eats the margin, and a trip in "
        "island takes the backup down.",
    .clauses = {"IEC 60364-5-53 531.3.2", "BS 7671 531.3.2"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"leakage share", "leakage of an inverter", "leakage of a heat pump",
                     "leakage of an appliance", "leakage of an EV point", "leakage of lighting",
                     "leakage of 100 m of cable"},
    .example = R"(site: {name: Server room on one RCD}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Servers, device: C16 2P 30 mA type A 6 kA, cable: 3×2.5 mm² 12 m, use: network, leakage: 9.5 mA}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
