// Speaks when the line and the neutral of a circuit pass different protective devices, whether in
// one RCD's case (danger) or in plain breakers only (breach), and when the neutral does not come
// home to the source at all. Devices on only one of two neutral ways in parallel are left to
// parallel-neutral-path; a neutral on the other side of a transfer to
// earthing/neutrals-of-backup-and-other-circuits-apart. A breaker that carries no neutral is not
// expected on the neutral's way.

#include <algorithm>
#include <string>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/sides.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::Loop;
using network::StateView;

bool has(const std::vector<std::size_t>& list, std::size_t item) {
  return std::ranges::count(list, item) > 0;
}

bool protects(const AnalysedSite& site, std::size_t element) {
  const auto& device = std::get<site::Device>(site.element(element).facts);
  return device.residual || device.kind == site::DeviceKind::breaker ||
         device.kind == site::DeviceKind::fuse;
}

/// The devices in which the two ways of a circuit differ.
struct Difference {
  std::vector<std::size_t> line_only;
  std::vector<std::size_t> neutral_only;
  bool in_rcd = false;

  bool none() const { return line_only.empty() && neutral_only.empty(); }
};

Difference difference(const AnalysedSite& site, const Loop& loop) {
  Difference found;
  const auto note = [&](std::size_t device, std::vector<std::size_t>& into) {
    into.push_back(device);
    if (check::residual(site, device) != nullptr) found.in_rcd = true;
  };
  for (const std::size_t device : loop.line_guards) {
    if (!protects(site, device)) continue;
    if (has(loop.neutral_guards, device) || has(loop.neutral_detours, device)) continue;
    const bool carries_neutral = !(site.element(device).conductors &
                                   site::Conductors{site::Conductor::n, site::Conductor::pen})
                                      .empty();
    if (carries_neutral || check::residual(site, device) != nullptr) note(device, found.line_only);
  }
  for (const std::size_t device : loop.neutral_guards)
    if (protects(site, device) && !has(loop.line_guards, device) && !has(loop.line_detours, device))
      note(device, found.neutral_only);
  return found;
}

bool has_neutral(const AnalysedSite& site, const Loop& loop) {
  return site.network.neutral(loop.load, 0) != network::no_node;
}

/// The device that shows the difference best: an RCD where there is one, the lowest otherwise.
std::string shown(const AnalysedSite& site, const std::vector<std::size_t>& devices) {
  for (const std::size_t device : devices)
    if (check::residual(site, device) != nullptr) return fmt::format("'{}'", site.name(device));
  return devices.empty() ? "no such device" : fmt::format("'{}'", site.name(devices.back()));
}

Verdict not_home(const AnalysedSite& site, const StateView& state, const Loop& loop) {
  const Subject subject = site.about(loop.load, &state);
  const std::string name = check::circuit_name(site, loop.load);
  const std::string source = check::quoted(site, loop.source);
  const network::SourcePoint& point =
      *std::ranges::find(site.network.sources, loop.source, &network::SourcePoint::element);
  if (state.possibly_joined(site.network.neutral(loop.load, 0),
                            site.network.neutral(point.element, point.terminal)))
    return open(subject, fmt::format("whether N of '{}' reaches {}", name, source),
                "poles or position of the devices between them");
  return broken(subject,
                fmt::format("N of '{}' does not reach {} that feeds its line", name, source),
                "bring the neutral back on the same way as the line");
}

Verdict judge(const AnalysedSite& site, const StateView& state, const Loop& loop) {
  const Subject subject = site.about(loop.load, &state);
  if (!has_neutral(site, loop)) return not_relevant(subject);
  if (!loop.neutral_joined) return not_home(site, state, loop);
  const Difference found = difference(site, loop);
  if (found.none()) return holds(subject);
  Verdict verdict =
      broken(subject,
             fmt::format("'{}': line through {}, N through {}, must be one way",
                         check::circuit_name(site, loop.load), shown(site, found.line_only),
                         shown(site, found.neutral_only)),
             "bring the neutral to the bar that belongs to the line's own device");
  if (!found.in_rcd) verdict.severity = Severity::breach;
  verdict.edits = {TakenOut{site.name(loop.load), "neutral from"}};
  for (const std::size_t device : found.line_only)
    verdict.notes.push_back(
        {site.element(device).where, fmt::format("only the line passes '{}'", site.name(device))});
  for (const std::size_t device : found.neutral_only)
    verdict.notes.push_back({site.element(device).where,
                             fmt::format("only the neutral passes '{}'", site.name(device))});
  return verdict;
}

/// A neutral left on the wrong bar often reaches no source in another state: the same mistake.
bool borrowed_in_some_state(const AnalysedSite& site, std::size_t load) {
  return std::ranges::any_of(site.states, [&](const StateView& state) {
    return std::ranges::any_of(state.loops, [&](const Loop& loop) {
      return loop.load == load && loop.neutral_joined && !difference(site, loop).none();
    });
  });
}

/// Circuits on two sides of a transfer, of which another rule speaks.
std::vector<std::size_t> loads_across_sides(const AnalysedSite& site) {
  std::vector<std::size_t> loads;
  if (check::neutral_stays_joined(site)) return loads;
  for (const check::AcrossSides& it : check::circuits_across_sides(site))
    loads.insert(loads.end(), it.loads.begin(), it.loads.end());
  return loads;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::vector<std::size_t> across = loads_across_sides(site);
  for (const StateView& state : site.states)
    for (const Loop& loop : state.loops) {
      const bool told = (!loop.neutral_joined && borrowed_in_some_state(site, loop.load)) ||
                        std::ranges::count(across, loop.load) > 0;
      verdicts.push_back(told ? not_relevant(site.about(loop.load, &state))
                              : judge(site, state, loop));
    }
  return verdicts;
}

}  // namespace

extern const check::Rule no_borrowed_neutral{
    .id = "rcd/no-borrowed-neutral",
    .severity = Severity::danger,
    .must_hold =
        "Line and neutral of a circuit run through the same RCD and the same protective "
        "device; no neutral is shared between circuits on different devices.",
    .why =
        "RCDs trip for no visible cause, and a neutral thought dead comes alive through the "
        "other circuit's lamp.",
    .clauses = {"IEC 60364-1 314.4", "BS 7671 314.4"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(site: {name: Landing light with the neutral of upstairs}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Upstairs, device: B6 1P+N 30 mA type A 6 kA, cable: 3×1.5 mm² 20 m, use: lighting}
      - {id: -F2, name: Landing, device: B6 1P+N 30 mA type A 6 kA, cable: 3×1.5 mm² 9 m, use: lighting, neutral from: -F1}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
