// Speaks of RCDs that are the last one ahead of several circuits. A circuit with an RCD of its own
// behind another counts for its own. Storeys are not in the file: lighting is looked at for the
// site as a whole. The numbers of the country are for homes; where its rules only advise them, so
// does the finding. One finding an RCD: what it loses the most by comes first.

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

const site::LoadGroup& load_of(const AnalysedSite& site, std::size_t load) {
  return std::get<site::LoadGroup>(site.element(load).facts);
}

/// Circuits by the RCD that is their last, in any state, and all circuits that are ever alive.
struct Division {
  std::map<std::size_t, std::set<std::size_t>> behind;
  std::set<std::size_t> circuits;
};

Division divided(const AnalysedSite& site) {
  Division division;
  for (const network::StateView& state : site.states)
    for (const network::Loop& loop : state.loops) {
      division.circuits.insert(loop.load);
      if (!loop.rcds.empty()) division.behind[loop.rcds.back().element].insert(loop.load);
    }
  return division;
}

std::size_t homes(const AnalysedSite& site, const std::set<std::size_t>& loads) {
  const auto home = [&](std::size_t load) { return load_of(site, load).dwelling; };
  return static_cast<std::size_t>(std::ranges::count_if(loads, home));
}

bool has_use(const AnalysedSite& site, const std::set<std::size_t>& loads, site::Use use) {
  return std::ranges::any_of(loads, [&](std::size_t l) { return load_of(site, l).use == use; });
}

/// Whether every lighting circuit of the site hangs on this RCD, and sockets too.
bool all_light_with_sockets(const AnalysedSite& site, const Division& division,
                            const std::set<std::size_t>& loads) {
  if (!has_use(site, loads, site::Use::lighting) || !has_use(site, loads, site::Use::sockets))
    return false;
  return std::ranges::all_of(division.circuits, [&](std::size_t load) {
    return load_of(site, load).use != site::Use::lighting || loads.contains(load);
  });
}

/// A circuit that must stay alive behind an RCD that others can trip.
std::size_t first_must(const AnalysedSite& site, const std::set<std::size_t>& loads) {
  for (const std::size_t load : loads)
    if (load_of(site, load).priority == "must") return load;
  return site::none;
}

Verdict with_circuits(const AnalysedSite& site, const std::set<std::size_t>& loads,
                      Verdict verdict) {
  verdict.notes =
      check::circuit_notes(site, {loads.begin(), loads.end()}, "goes dark with the others");
  return verdict;
}

/// The country's numbers for homes; nothing where they are kept or there are none.
std::optional<Verdict> against_numbers(const AnalysedSite& site, std::size_t rcd,
                                       const Division& division,
                                       const std::set<std::size_t>& loads) {
  const auto most = site.profile.number("circuits per rcd");
  const auto fewest = site.profile.number("rcds of a home");
  const auto count = homes(site, loads);
  std::optional<Verdict> verdict;
  if (most && static_cast<double>(count) > *most)
    verdict = broken(site.about(rcd),
                     fmt::format("'{}' guards {} circuits of a home, must be {} or fewer",
                                 site.name(rcd), count, *most),
                     "divide them over more RCDs");
  else if (fewest && count > 1 && static_cast<double>(division.behind.size()) < *fewest)
    verdict = broken(site.about(rcd),
                     fmt::format("'{}' is one of {} RCDs, a home must have {}", site.name(rcd),
                                 division.behind.size(), *fewest),
                     "divide the circuits over more RCDs");
  if (verdict && !site.profile.says_yes("circuits per rcd binding"))
    verdict->severity = Severity::advice;
  return verdict;
}

Verdict judge(const AnalysedSite& site, std::size_t rcd, const Division& division,
              const std::set<std::size_t>& loads) {
  const Subject subject = site.about(rcd);
  const std::string& name = site.name(rcd);
  if (loads.size() < 2) return holds(subject);
  const std::string_view remedy = "divide the circuits over more RCDs, or give each its own";
  if (loads.size() > 2 && loads == division.circuits)
    return with_circuits(
        site, loads,
        broken(subject, fmt::format("'{}' alone guards all {} circuits", name, loads.size()),
               std::string(remedy)));
  if (all_light_with_sockets(site, division, loads))
    return with_circuits(
        site, loads,
        broken(subject, fmt::format("'{}' guards all the lighting together with sockets", name),
               "give the lighting an RCD that sockets cannot trip"));
  if (auto numbers = against_numbers(site, rcd, division, loads))
    return with_circuits(site, loads, std::move(*numbers));
  const std::size_t must = first_must(site, loads);
  if (must == site::none) return holds(subject);
  Verdict verdict = broken(subject,
                           fmt::format("'{}' must stay alive and shares '{}' with others",
                                       check::circuit_name(site, must), name),
                           "give this circuit an RCD of its own");
  verdict.severity = Severity::advice;
  return with_circuits(site, loads, std::move(verdict));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const Division division = divided(site);
  for (const auto& [rcd, loads] : division.behind)
    verdicts.push_back(judge(site, rcd, division, loads));
  return verdicts;
}

}  // namespace

extern const check::Rule not_one_rcd_for_all{
    .id = "rcd/not-one-rcd-for-all",
    .severity = Severity::breach,
    .must_hold =
        "Circuits are divided over several RCDs, so that one trip takes neither all the light nor "
        "everything else, within the country's numbers for a home.",
    .why =
        "A trip at night leaves people in the dark; while nobody is there it defrosts the freezer "
        "and stops heating and pumps.",
    .clauses = {"IEC 60364-1 314.1", "NF C 15-100 771.531.2.3", "AS/NZS 3000 2.6.2.4"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"circuits per rcd", "rcds of a home", "circuits per rcd binding"},
    .example = R"(site: {name: Half a house on one RCD}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - group: -F10 RCD 40 A 2P 30 mA type A
        circuits:
          - {id: -F1, name: Lights, device: B6 1P+N 6 kA, cable: 3×1.5 mm² 20 m, use: lighting}
          - {id: -F2, name: Sockets, device: B16 1P+N 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
