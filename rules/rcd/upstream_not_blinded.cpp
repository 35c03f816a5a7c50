// Smooth direct current that a circuit may pass goes through every RCD ahead of it as well.
//
// Speaks of RCDs further up than the last: where that is type B, they must be type B; where the
// circuit is limited to 6 mA of direct current, type AC will not do. Where the maker's word is that
// it passes more than 6 mA, the last one is asked too. Left to others: the last RCD of an EV point
// (type-for-ev), type AC as such (type-at-least-a), RCDs ahead of inverters (type-for-pv-inverter).
#include <algorithm>
#include <map>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using site::ResidualType;

/// How much smooth direct current a circuit may pass.
enum class Passes { nothing, up_to_6ma, more };

Passes passed_by(const AnalysedSite& site, const network::Loop& loop) {
  constexpr Current limit{0.006};
  constexpr double hair = 1e-9;  // 6 mA as read need not be 6 mA to the last bit
  const auto& load = std::get<site::LoadGroup>(site.element(loop.load).facts);
  const site::Residual& last = *check::residual(site, loop.rcds.back().element);
  if (load.dc_leakage)
    return *load.dc_leakage > limit * (1.0 + hair) ? Passes::more : Passes::up_to_6ma;
  if (load.dc_detection_6ma == true || last.dc_detection_6ma == true) return Passes::up_to_6ma;
  if (last.type == ResidualType::b || load.declared_rcd_type == ResidualType::b)
    return Passes::more;
  return Passes::nothing;
}

/// Whether the last RCD must cope as well: the maker says that the equipment passes more.
bool last_is_asked(const AnalysedSite& site, const network::Loop& loop, Passes passes) {
  const auto& load = std::get<site::LoadGroup>(site.element(loop.load).facts);
  const bool said = load.dc_leakage || load.declared_rcd_type == ResidualType::b;
  return said && passes == Passes::more && load.use != site::Use::ev;
}

/// What one RCD must cope with, over all states: one cause, told alike in each of them.
struct Met {
  std::vector<const network::StateView*> states;
  Passes most = Passes::nothing;
  std::vector<std::size_t> by;
};

template <class T>
void add_once(std::vector<T>& list, const T& item) {
  if (std::ranges::count(list, item) == 0) list.push_back(item);
}

void add_loop(const AnalysedSite& site, const network::StateView& state, const network::Loop& loop,
              std::map<std::size_t, Met>& all) {
  if (loop.rcds.empty()) return;
  const Passes passes = passed_by(site, loop);
  const std::size_t asked = loop.rcds.size() - (last_is_asked(site, loop, passes) ? 0 : 1);
  for (std::size_t i = 0; i < asked; ++i) {
    Met& met = all[loop.rcds[i].element];
    if (passes > met.most) met = {{}, passes, {}};
    if (passes != met.most) continue;
    add_once(met.states, &state);
    add_once(met.by, loop.load);
  }
}

Verdict judge(const AnalysedSite& site, const network::StateView& state, std::size_t rcd,
              const Met& met) {
  const Subject subject = site.about(rcd, &state);
  if (met.most == Passes::nothing) return not_relevant(subject);
  const std::string& name = site.name(rcd);
  const auto type = check::residual(site, rcd)->type;
  const std::string whom = check::circuits_in_words(site, met.by);
  if (!type)
    return open(subject, fmt::format("whether direct current of {} blinds '{}'", whom, name),
                fmt::format("residual type of '{}' (device: … type B)", name));
  const bool more = met.most == Passes::more;
  if (*type == ResidualType::b || (!more && *type != ResidualType::ac)) return holds(subject);
  Verdict verdict = broken(
      subject,
      fmt::format("direct current of {} blinds '{}', must be type {}", whom, name,
                  more ? "B" : "A or more"),
      fmt::format("fit type {}, or feed this from ahead of '{}'", more ? "B" : "A, F or B", name));
  verdict.notes = check::circuit_notes(
      site, met.by, more ? "may pass more than 6 mA of direct current" : "may pass 6 mA of it");
  // A heat pump that shares its RCD needs one of its own; a wider type alone does not mend that.
  const bool pump = std::ranges::any_of(met.by, [&](std::size_t load) {
    const auto* group = site::facts<site::LoadGroup>(site.element(load));
    return group != nullptr && group->use == site::Use::heat_pump;
  });
  if (pump) return verdict;
  return mended_by(std::move(verdict), {DeviceWords{name, more ? "type B" : "type A"}});
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::map<std::size_t, Met> all;
  for (const network::StateView& state : site.states)
    for (const network::Loop& loop : state.loops)
      add_loop(site, state, loop, all);
  std::vector<Verdict> verdicts;
  for (const auto& [rcd, met] : all)
    for (const network::StateView* state : met.states)
      verdicts.push_back(judge(site, *state, rcd, met));
  return verdicts;
}

}  // namespace

extern const check::Rule upstream_not_blinded{
    .id = "rcd/upstream-not-blinded",
    .severity = Severity::danger,
    .must_hold =
        "What may pass smooth direct current is not fed through an RCD further up that "
        "such current blinds.",
    .why =
        "The direct current flows through the upper core as well and blinds it for every other "
        "circuit behind it.",
    .clauses = {"IEC 60364-5-53 531.3.3", "IEC 60364-7-722"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(site: {name: Heat pump on type B behind an incomer of type A}
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 5×16 mm² 3 m, -F10 RCD 63 A 4P 300 mA type A S]
    circuits:
      - {id: -F1, name: Heat pump, device: C16 4P 30 mA type B, cable: 5×2.5 mm² 12 m, use: heat pump}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
