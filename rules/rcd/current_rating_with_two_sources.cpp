// Speaks of RCDs without overcurrent protection of their own. What can pass one downwards is
// limited by the devices of the sources above it, or by the sum of the circuits below it with the
// sources there that may draw from above; what can pass upwards by the devices of the sources
// below. Diversity is never used. Its conditional short-circuit rating and a country's tables of
// permitted ratings are not looked at.

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "network/ways.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

constexpr double hair = 1e-9;  // a sum need not be the rating to the last bit

/// A sum of currents; `missing` names the first value without which it is not known.
struct Sum {
  Current amount{};
  std::string missing;
};

bool limits(const site::Device& device) {
  return device.kind == site::DeviceKind::breaker || device.kind == site::DeviceKind::rcbo ||
         device.kind == site::DeviceKind::fuse || device.kind == site::DeviceKind::fuse_switch;
}

std::optional<Current> own_rating(const AnalysedSite& site, std::size_t source) {
  if (const auto* supply = site::facts<site::Supply>(site.element(source)))
    return supply->service_fuse;
  std::optional<ApparentPower> power;
  if (const auto* inverter = site::facts<site::Inverter>(site.element(source)))
    power = inverter->power;
  if (const auto* set = site::facts<site::Generator>(site.element(source))) power = set->power;
  const auto u0 = site.site.system.line_to_earth;
  const int phases = (site.element(source).conductors & site::lines).count();
  if (!power || !u0 || phases < 1) return std::nullopt;
  return power->base / (static_cast<double>(phases) * *u0);
}

std::optional<Current> smaller(std::optional<Current> a, std::optional<Current> b) {
  if (!a) return b;
  return b && *b < *a ? b : a;
}

/// The most that one source can send to the device, by the smallest protective device on its way.
std::optional<Current> limit_of(const AnalysedSite& site, std::size_t source,
                                const network::Passage& way) {
  std::optional<Current> limit = own_rating(site, source);
  for (const std::size_t guard : way.devices) {
    const auto& device = std::get<site::Device>(site.element(guard).facts);
    if (limits(device)) limit = smaller(limit, device.rated_current);
  }
  return limit;
}

/// A running source and the ways from it.
struct Running {
  std::size_t source;
  network::WaysFrom ways;
};

std::vector<Running> running_in(const AnalysedSite& site, const StateView& state) {
  std::vector<Running> all;
  for (const network::Zone& zone : state.zones)
    for (const auto* list : {&zone.sources, &zone.following})
      for (const std::size_t source : *list)
        all.push_back({source,
                       {site.network, site.site, state.positions,
                        *network::source_point(site.network, source)}});
  return all;
}

/// What the sources on one side of an RCD can send to it without passing it.
Sum from_side(const AnalysedSite& site, const std::vector<Running>& running, std::size_t rcd,
              std::size_t terminal) {
  Sum sum;
  for (const auto& [source, ways] : running) {
    const network::Passage way = ways.lines_to(rcd, terminal);
    if (!way.joined || way.may_pass(rcd)) continue;
    const auto limit = limit_of(site, source, way);
    if (limit)
      sum.amount += *limit;
    else if (sum.missing.empty())
      sum.missing = site::facts<site::Supply>(site.element(source)) != nullptr
                        ? "fuse of the supply (fuse: 63 A gG)"
                        : fmt::format("power of '{}' (power)", site.name(source));
  }
  return sum;
}

std::optional<Current> circuit_limit(const AnalysedSite& site, const network::Loop& loop) {
  for (auto guard = loop.line_guards.rbegin(); guard != loop.line_guards.rend(); ++guard) {
    const auto& device = std::get<site::Device>(site.element(*guard).facts);
    if (limits(device)) return device.rated_current;
  }
  return std::nullopt;
}

/// The circuits behind the device, on the line that carries most of them.
Sum of_circuits(const AnalysedSite& site, const StateView& state, std::size_t rcd) {
  std::array<Current, 3> by_line{};
  std::set<std::size_t> seen;
  Sum sum;
  for (const network::Loop& loop : state.loops) {
    const bool passes = std::ranges::count(loop.line_guards, rcd) > 0 ||
                        std::ranges::count(loop.line_detours, rcd) > 0;
    if (!passes || !seen.insert(loop.load).second) continue;
    const auto limit = circuit_limit(site, loop);
    if (!limit && sum.missing.empty())
      sum.missing =
          fmt::format("rated current of '{}' (device)", site.name(check::circuit_device(loop)));
    const site::Conductors own = site.element(loop.load).conductors;
    constexpr std::array<site::Conductor, 3> lines{site::Conductor::l1, site::Conductor::l2,
                                                   site::Conductor::l3};
    for (std::size_t i = 0; i < lines.size(); ++i)
      if (limit && own.has(lines[i])) by_line[i] += *limit;
  }
  sum.amount = *std::ranges::max_element(by_line);
  return sum;
}

/// Both bounds known: the smaller; one known: that one; none: what is missing.
Sum smaller_of(const Sum& a, const Sum& b, Current rating) {
  const auto fits = [&](const Sum& sum) {
    return sum.missing.empty() && sum.amount <= rating * (1.0 + hair);
  };
  if (fits(a)) return a;
  if (fits(b)) return b;
  if (!a.missing.empty()) return a;
  if (!b.missing.empty()) return b;
  return a.amount < b.amount ? a : b;
}

/// The most that can pass the device in a state.
Sum through(const AnalysedSite& site, const StateView& state, const std::vector<Running>& running,
            std::size_t rcd, Current rating) {
  const Sum above = from_side(site, running, rcd, 0);
  const Sum below = from_side(site, running, rcd, 1);
  Sum drawn = of_circuits(site, state, rcd);
  drawn.amount += below.amount;
  if (drawn.missing.empty()) drawn.missing = below.missing;
  Sum down = smaller_of(above, drawn, rating);
  if (!down.missing.empty() || down.amount > rating * (1.0 + hair)) return down;
  return below.missing.empty() && below.amount < down.amount ? down : below;
}

Verdict judge(const AnalysedSite& site, const StateView& state, const std::vector<Running>& running,
              std::size_t rcd) {
  const Subject subject = site.about(rcd, &state);
  const std::string& name = site.name(rcd);
  const std::string question = fmt::format("whether more can pass '{}' than it carries", name);
  const auto rating = std::get<site::Device>(site.element(rcd).facts).rated_current;
  if (!rating)
    return open(subject, question, fmt::format("rated current of '{}' (device: RCD 63 A …)", name));
  const Sum most = through(site, state, running, rcd, *rating);
  if (!most.missing.empty()) return open(subject, question, most.missing);
  if (most.amount <= *rating * (1.0 + hair)) return holds(subject);
  return broken(subject,
                fmt::format("{} can pass '{}', which carries {}", print_rounded(most.amount, 3),
                            name, *rating),
                "fit a larger RCD, or smaller devices ahead of it, so that it is never overloaded");
}

bool alive_in(const AnalysedSite& site, const StateView& state, std::size_t rcd) {
  return network::alive(site.network, state, rcd, 0) || network::alive(site.network, state, rcd, 1);
}

bool is_rccb(const AnalysedSite& site, std::size_t element) {
  const auto* device = site::facts<site::Device>(site.element(element));
  return device != nullptr && device->kind == site::DeviceKind::rcd;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  std::vector<std::size_t> rccbs;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e)
    if (is_rccb(site, e)) rccbs.push_back(e);
  if (rccbs.empty()) return verdicts;
  for (const StateView& state : site.states) {
    const std::vector<Running> running = running_in(site, state);
    for (const std::size_t rcd : rccbs)
      if (alive_in(site, state, rcd)) verdicts.push_back(judge(site, state, running, rcd));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule current_rating_with_two_sources{
    .id = "rcd/current-rating-with-two-sources",
    .severity = Severity::breach,
    .must_hold =
        "An RCD without overcurrent protection carries the most that can pass it from all sources "
        "together, as the devices ahead of it or behind it limit it.",
    .why =
        "Such an RCD has no overload trip: 63 A from the grid and 32 A from an inverter that meet "
        "ahead of it can send 95 A through it.",
    .clauses = {"IEC 60364-5-53 536.4.3", "BS 7671 536.4.202"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(site: {name: Two sources ahead of one RCD}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 63 A gG}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - group: -F10 RCD 63 A 2P 30 mA type A
        circuits:
          - {id: -F1, name: Cooker, device: B40 1P+N 6 kA, cable: 3×10 mm² 12 m, use: cooking}
          - {id: -F2, name: Water heater, device: B40 1P+N 6 kA, cable: 3×10 mm² 12 m, use: fixed}
inverters:
  -T1: {kind: pv, power: 7 kVA, pv: {power: 7 kWp}}
chains:
  - [A1, -F5 C32 2P 6 kA two-way, -W5 3×6 mm² 8 m, -T1:ac]
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
