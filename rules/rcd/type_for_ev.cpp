// Speaks about the RCD of at most 30 mA nearest to an EV point: whether it is the point's own, and
// whether it or the point copes with smooth direct current, type AC included. A point without such
// an RCD is left to additional-protection-circuits, a type AC further up to type-at-least-a.

#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::CircuitCover;
using site::ResidualType;

/// Another circuit that the RCD guards as well in that state, or none.
std::size_t sharer(const CircuitCover& cover) {
  for (const network::Loop& loop : cover.state->loops) {
    const auto passes = [&](const network::RcdOnLoop& rcd) { return rcd.element == cover.rcd; };
    if (loop.load != cover.loop->load && std::ranges::any_of(loop.rcds, passes)) return loop.load;
  }
  return site::none;
}

Verdict judge_type(const AnalysedSite& site, const CircuitCover& cover, const Subject& subject) {
  const site::Residual& rcd = *check::residual(site, cover.rcd);
  const auto& point = std::get<site::LoadGroup>(site.element(cover.loop->load).facts);
  const std::string name = check::circuit_name(site, cover.loop->load);
  const std::string question =
      fmt::format("whether '{}' copes with direct current of '{}'", site.name(cover.rcd), name);
  if (!rcd.type)
    return open(subject, question,
                fmt::format("residual type of '{}' (device: … type A)", site.name(cover.rcd)));
  if (*rcd.type == ResidualType::b) return holds(subject);
  if (*rcd.type == ResidualType::ac)
    return mended_by(
        broken(subject,
               fmt::format("'{}' for '{}' is type AC, must be B or A with detection",
                           site.name(cover.rcd), name),
               fmt::format("fit {}", site.profile.text("rcd type ev"))),
        {DeviceWords{site.name(cover.rcd), point.dc_detection_6ma == true ? "type A" : "type B"}});
  if (rcd.dc_detection_6ma == true || point.dc_detection_6ma == true) return holds(subject);
  if (!point.dc_detection_6ma)
    return open(subject, question,
                fmt::format("whether '{}' has 6 mA DC detection (dc detection)", name));
  Verdict verdict =
      broken(subject,
             fmt::format("'{}' for '{}' is type {} without DC detection, must have it",
                         site.name(cover.rcd), name, *rcd.type == ResidualType::a ? "A" : "F"),
             fmt::format("fit {}, in the board or in the point", site.profile.text("rcd type ev")));
  verdict.notes.push_back({site.element(cover.loop->load).where,
                           fmt::format("'{}' has no DC detection of its own", name)});
  return mended_by(std::move(verdict), {DeviceWords{site.name(cover.rcd), "type B"}});
}

Verdict judge(const AnalysedSite& site, const CircuitCover& cover) {
  const std::size_t load = cover.loop->load;
  const Subject subject = site.about(
      cover.rcd == site::none ? check::circuit_device(*cover.loop) : cover.rcd, cover.state);
  if (cover.standing != check::Standing::guarded && cover.standing != check::Standing::unseen)
    return not_relevant(subject);
  const std::size_t other = sharer(cover);
  if (other == site::none) return judge_type(site, cover, subject);
  Verdict verdict = broken(subject,
                           fmt::format("'{}' guards '{}' and others, must be its own",
                                       site.name(cover.rcd), check::circuit_name(site, load)),
                           "give the EV point an RCD of its own, not below another of 30 mA");
  verdict.severity = Severity::breach;
  verdict.notes.push_back({site.element(other).where,
                           fmt::format("'{}' is behind it too", check::circuit_name(site, other))});
  return verdict;
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const CircuitCover& cover : check::circuit_covers(site)) {
    const auto& load = std::get<site::LoadGroup>(site.element(cover.loop->load).facts);
    if (load.use == site::Use::ev) verdicts.push_back(judge(site, cover));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule type_for_ev{
    .id = "rcd/type-for-ev",
    .severity = Severity::danger,
    .must_hold =
        "Each EV point has an RCD of at most 30 mA of its own, either type B, or type A or "
        "F together with 6 mA DC detection that disconnects.",
    .why =
        "Smooth direct current from the car's charger saturates the core of a type A, so that a "
        "later shock by alternating current is not seen.",
    .clauses = {"IEC 60364-7-722 722.531.2.101", "BS 7671 722.531.3.101", "DIN VDE 0100-722"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"rcd limit", "rcd ev", "rcd type ev"},
    .example = R"(site: {name: EV point on a plain type A}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Car, device: C32 2P 30 mA type A 6 kA, cable: 3×6 mm² 20 m, use: EV, dc detection: no}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
