// Speaks about RCDs with a PV inverter on their load side while it runs in parallel. A type AC is
// left to type-at-least-a. Whether there should be an RCD at all is asked by other rules.

#include <algorithm>
#include <optional>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::SourceBehindRcd;
using site::ResidualType;

std::optional<ResidualType> declared_type(const site::Inverter& inverter) {
  const std::string& word = inverter.declared_rcd_type;
  if (word == "AC" || word == "ac") return ResidualType::ac;
  if (word == "A" || word == "a") return ResidualType::a;
  if (word == "F" || word == "f") return ResidualType::f;
  if (word == "B" || word == "b") return ResidualType::b;
  return std::nullopt;
}

std::string_view letter(ResidualType type) {
  switch (type) {
    case ResidualType::ac:
      return "AC";
    case ResidualType::a:
      return "A";
    case ResidualType::f:
      return "F";
    case ResidualType::b:
      return "B";
  }
  return "";
}

bool has_pv(const AnalysedSite& site, std::size_t inverter) {
  return site.site.find_terminal(inverter, "pv") != site::none;
}

Verdict judge(const AnalysedSite& site, const SourceBehindRcd& behind) {
  const Subject subject = site.about(behind.rcd, behind.state);
  const site::Residual& rcd = *check::residual(site, behind.rcd);
  const auto& inverter = std::get<site::Inverter>(site.element(behind.source).facts);
  const std::string question = fmt::format("whether '{}' suits PV inverter '{}'",
                                           site.name(behind.rcd), site.name(behind.source));
  if (!rcd.type)
    return open(subject, question,
                fmt::format("residual type of '{}' (device: … type B)", site.name(behind.rcd)));
  if (*rcd.type == ResidualType::ac) return not_relevant(subject);
  if (*rcd.type == ResidualType::b || inverter.no_dc_fault_current == true) return holds(subject);
  const bool separated = inverter.separation == site::Separation::simple ||
                         inverter.separation == site::Separation::transformer;
  const auto declared = declared_type(inverter);
  if (separated || (declared && *rcd.type >= *declared)) return holds(subject);
  if (!inverter.separation && !declared)
    return open(
        subject, question,
        fmt::format("separation of '{}' (separation), or what its maker declares (rcd type)",
                    site.name(behind.source)));
  if (!inverter.no_dc_fault_current && !declared)
    return open(subject, question,
                fmt::format("what the maker of '{}' declares (no dc fault current, rcd type)",
                            site.name(behind.source)));
  Verdict verdict = broken(
      subject,
      fmt::format("'{}' is type {}, must be {} for '{}'", site.name(behind.rcd), letter(*rcd.type),
                  declared ? letter(*declared) : "B", site.name(behind.source)),
      "fit the type wanted, or an inverter whose maker declares that no direct fault current "
      "reaches the AC side");
  verdict.notes.push_back({site.element(behind.source).where,
                           fmt::format("'{}' has no separation", site.name(behind.source))});
  return mended_by(std::move(verdict),
                   {DeviceWords{site.name(behind.rcd),
                                fmt::format("type {}", declared ? letter(*declared) : "B")}});
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
