// Speaks about RCDs with a PV inverter on their load side while it runs in parallel. A type AC is
// left to type-at-least-a. Whether there should be an RCD at all is asked by other rules.

#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/residual_types.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::SourceBehindRcd;
using site::ResidualType;

bool has_pv(const AnalysedSite& site, std::size_t inverter) {
  return site.site.find_terminal(inverter, "pv") != site::none;
}

Verdict judge(const AnalysedSite& site, const SourceBehindRcd& behind) {
  const Subject subject = site.about(behind.rcd, behind.state);
  const site::Residual& rcd = *check::residual(site, behind.rcd);
  const std::string question = fmt::format("whether '{}' suits PV inverter '{}'",
                                           site.name(behind.rcd), site.name(behind.source));
  if (!rcd.type)
    return open(subject, question,
                fmt::format("residual type of '{}' (device: … type B)", site.name(behind.rcd)));
  if (*rcd.type == ResidualType::ac) return not_relevant(subject);
  if (*rcd.type == ResidualType::b) return holds(subject);
  const check::LeastType least =
      check::least_type_for(site, behind.source, check::InverterSide::grid);
  if (!least.type) return open(subject, question, least.missing);
  if (*rcd.type >= *least.type) return holds(subject);
  Verdict verdict = broken(
      subject,
      fmt::format("'{}' is type {}, must be {} for '{}'", site.name(behind.rcd),
                  check::letter(*rcd.type), check::letter(*least.type), site.name(behind.source)),
      "fit the type wanted, or an inverter whose maker declares that no direct fault "
      "current reaches the AC side");
  verdict.notes.push_back({site.element(behind.source).where,
                           fmt::format("'{}' has no separation", site.name(behind.source))});
  return mended_by(
      std::move(verdict),
      {DeviceWords{site.name(behind.rcd), fmt::format("type {}", check::letter(*least.type))}});
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  if (!site.profile.text("rcd type pv inverter").starts_with("B")) return verdicts;
  for (const SourceBehindRcd& behind : check::sources_behind_rcds(site))
    if (site::facts<site::Inverter>(site.element(behind.source)) && has_pv(site, behind.source))
      verdicts.push_back(judge(site, behind));
  return verdicts;
}

}  // namespace

extern const check::Rule type_for_pv_inverter{
    .id = "rcd/type-for-pv-inverter",
    .severity = Severity::breach,
    .must_hold =
        "An RCD with a PV inverter on its load side is type B, unless the inverter has at "
        "least simple separation or its maker declares that a lesser type will do.",
    .why =
        "An inverter without transformer can pass direct fault current from the array to the AC "
        "side and blind a lesser RCD.",
    .clauses = {"IEC 60364-7-712 712.531.3", "DIN VDE 0100-712 712.531.3.101",
                "BS 7671 712.531.3.5.1"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"rcd type pv inverter"},
    .example = R"(site: {name: PV inverter on a type A}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1: {feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]}
inverters:
  -T1: {kind: pv, power: 3 kVA, separation: none, no dc fault current: no, pv: {power: 3 kWp}}
chains:
  - [A1, -F1 C20 2P 30 mA type A two-way, -W2 3×4 mm² 8 m, -T1:ac]
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
