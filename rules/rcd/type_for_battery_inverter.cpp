// Speaks about RCDs ahead of a battery inverter without PV, as type-for-pv-inverter does of one
// with PV, and about the RCDs that any battery inverter feeds while it forms the voltage. A type AC
// and a missing type are left to type-at-least-a. Where several RCDs stand behind one inverter, the
// finding stands at the inverter and names them. Waveform is works-on-source-waveform's business.

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/residual_types.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"

namespace linewright::rules {
namespace {

// NOLINTBEGIN(bugprone-unchecked-optional-access): whoever calls has asked whether it is given.

using check::AnalysedSite;
using check::InverterSide;
using network::StateView;
using site::ResidualType;

bool has(const AnalysedSite& site, std::size_t element, std::string_view terminal) {
  return site.site.find_terminal(element, terminal) != site::none;
}

bool has_battery(const AnalysedSite& site, std::size_t element) {
  const auto* inverter = site::facts<site::Inverter>(site.element(element));
  return inverter != nullptr && (inverter->hybrid || has(site, element, "battery"));
}

/// RCDs on one side of one inverter, over all states: one cause, told alike in each of them.
struct Side {
  std::size_t inverter = site::none;
  InverterSide side = InverterSide::grid;
  friend auto operator<=>(const Side&, const Side&) = default;
};
struct Met {
  std::vector<const StateView*> states;
  std::vector<std::size_t> rcds;
};
using Sides = std::map<Side, Met>;

template <class T>
void add_once(std::vector<T>& list, const T& item) {
  if (std::ranges::count(list, item) == 0) list.push_back(item);
}

void add(Sides& sides, Side side, const StateView& state, std::size_t rcd) {
  Met& met = sides[side];
  add_once(met.states, &state);
  add_once(met.rcds, rcd);
}

Sides sides_with_rcds(const AnalysedSite& site) {
  Sides sides;
  for (const check::SourceBehindRcd& behind : check::sources_behind_rcds(site))
    if (has_battery(site, behind.source) && !has(site, behind.source, "pv"))
      add(sides, {behind.source, InverterSide::grid}, *behind.state, behind.rcd);
  for (const StateView& state : site.states)
    for (const network::Loop& loop : state.loops)
      if (has_battery(site, loop.source))
        for (const network::RcdOnLoop& rcd : loop.rcds)
          add(sides, {loop.source, InverterSide::island}, state, rcd.element);
  return sides;
}

/// Those whose type is known, is not AC, and is less than wanted.
std::vector<std::size_t> lesser(const AnalysedSite& site, const std::vector<std::size_t>& rcds,
                                ResidualType wanted) {
  std::vector<std::size_t> found;
  for (const std::size_t rcd : rcds) {
    const auto type = check::residual(site, rcd)->type;
    if (type && *type != ResidualType::ac && *type < wanted) found.push_back(rcd);
  }
  return found;
}

Verdict judge(const AnalysedSite& site, const Side& side, const Met& met, const StateView& state) {
  const Subject at_inverter = site.about(side.inverter, &state);
  const auto asked = lesser(site, met.rcds, ResidualType::b);
  if (asked.empty()) return holds(at_inverter);
  const check::LeastType least = check::least_type_for(site, side.inverter, side.side);
  const std::string& name = site.name(side.inverter);
  if (!least.type)
    return open(at_inverter,
                fmt::format("whether RCDs of type {} {} '{}' suit it",
                            check::letter(*check::residual(site, asked.front())->type),
                            side.side == InverterSide::grid ? "ahead of" : "fed by", name),
                least.missing);
  const auto wrong = lesser(site, asked, *least.type);
  if (wrong.empty()) return holds(at_inverter);
  const std::string_view wanted = check::letter(*least.type);
  const bool one = wrong.size() == 1;
  Verdict verdict = broken(
      one ? site.about(wrong.front(), &state) : at_inverter,
      one ? fmt::format("'{}' is type {}, must be {} for '{}'", site.name(wrong.front()),
                        check::letter(*check::residual(site, wrong.front())->type), wanted, name)
          : fmt::format("{} RCDs for '{}' are of a lesser type, must be {}", wrong.size(), name,
                        wanted),
      "fit the type wanted, or an inverter whose maker declares that no direct fault current "
      "reaches its AC side");
  for (const std::size_t rcd : wrong)
    verdict.notes.push_back(
        {site.element(rcd).where, fmt::format("'{}' is type {}", site.name(rcd),
                                              check::letter(*check::residual(site, rcd)->type))});
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  if (!site.profile.text("rcd type battery inverter").starts_with("B")) return verdicts;
  for (const auto& [side, met] : sides_with_rcds(site))
    for (const StateView* state : met.states)
      verdicts.push_back(judge(site, side, met, *state));
  return verdicts;
}

// NOLINTEND(bugprone-unchecked-optional-access)

}  // namespace

extern const check::Rule type_for_battery_inverter{
    .id = "rcd/type-for-battery-inverter",
    .severity = Severity::breach,
    .must_hold =
        "RCDs ahead of a battery inverter, and those that it feeds in island, are type B, unless "
        "it has at least simple separation or its maker declares that a lesser type will do.",
    .why =
        "An inverter without transformer can pass direct fault current from the battery to the AC "
        "side, in either direction of energy, and blind a lesser RCD.",
    .clauses = {"IEC 60364-5-53 531.3.3", "IEC 60364-5-57", "IEC 60364-5-55 551.4.3.3"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"rcd type battery inverter"},
    .example = R"(site: {name: Battery inverter on a type A}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
inverters:
  -T1: {kind: battery, power: 3 kVA, grid: following, separation: none, no dc fault current: no, battery: {energy: 5 kWh}}
chains:
  - [A1, -F1 C20 2P 30 mA type A two-way, -W2 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
