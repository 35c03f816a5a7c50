// Speaks about RCDs of type AC, also where an inverter is behind them (type-for-pv-inverter says
// nothing of a type AC), and about a missing type. The RCD that an EV point has for itself is left
// to type-for-ev; one that it shares, or one further up, is not.

#include <map>
#include <optional>
#include <set>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using site::Use;

/// Whether the current of a load has a direct-current part; nothing where the file does not say.
std::optional<bool> has_dc_part(const site::LoadGroup& load) {
  switch (load.use) {
    case Use::sockets:
    case Use::outdoors:
    case Use::lighting:  // lamps are fed through electronics, common practice, no source
    case Use::ev:
    case Use::heat_pump:
    case Use::network:
      return true;
    case Use::unknown:
      return std::nullopt;
    case Use::separated:
      return false;
    case Use::fixed:
    case Use::bathroom:
    case Use::cooking:
    case Use::motor:
      return load.drive;
  }
  return std::nullopt;
}

/// Circuits and parallel sources on the load side of each type AC, in any state.
using Behind = std::map<std::size_t, std::set<std::size_t>>;

bool is_type_ac(const AnalysedSite& site, std::size_t element) {
  const site::Residual* residual = check::residual(site, element);
  return residual != nullptr && residual->type == site::ResidualType::ac;
}

Behind behind_type_ac(const AnalysedSite& site) {
  Behind behind;
  for (const network::StateView& state : site.states)
    for (const network::Loop& loop : state.loops)
      for (const auto* devices : {&loop.line_guards, &loop.line_detours})
        for (const std::size_t device : *devices)
          if (is_type_ac(site, device)) behind[device].insert(loop.load);
  for (const check::SourceBehindRcd& source : check::sources_behind_rcds(site))
    if (is_type_ac(site, source.rcd)) behind[source.rcd].insert(source.source);
  return behind;
}

/// Devices that are the RCD nearest to an EV point and have nothing else behind them.
std::set<std::size_t> own_to_ev_points(const AnalysedSite& site, const Behind& behind) {
  std::set<std::size_t> own;
  for (const check::CircuitCover& cover : check::circuit_covers(site)) {
    const auto& load = std::get<site::LoadGroup>(site.element(cover.loop->load).facts);
    if (load.use != Use::ev || cover.standing != check::Standing::guarded) continue;
    const auto others = behind.find(cover.rcd);
    if (others != behind.end() && others->second.size() == 1) own.insert(cover.rcd);
  }
  return own;
}

/// What speaks against type AC, and what the file leaves out.
struct Against {
  std::vector<Note> notes;
  std::string undecided;
};

Against against(const AnalysedSite& site, const std::set<std::size_t>& behind) {
  Against found;
  for (const std::size_t element : behind) {
    const auto* load = site::facts<site::LoadGroup>(site.element(element));
    const std::optional<bool> dc = load == nullptr ? true : has_dc_part(*load);
    const std::string name = check::circuit_name(site, element);
    if (dc == true)
      found.notes.push_back({site.element(element).where,
                             fmt::format("the current of '{}' can have a direct part", name)});
    if (!dc)
      found.undecided = fmt::format(
          "{} of '{}'",
          load->use == Use::unknown ? "what it serves (use)" : "fed through a converter (drive)",
          name);
  }
  return found;
}

Verdict judge_type_ac(const AnalysedSite& site, std::size_t rcd,
                      const std::set<std::size_t>& behind) {
  const Subject subject = site.about(rcd);
  Against found = against(site, behind);
  if (site.profile.says_yes("rcd type AC forbidden") || !found.notes.empty()) {
    Verdict verdict =
        broken(subject, fmt::format("'{}' is type AC, must be at least type A", site.name(rcd)),
               "fit type A or better; for an inverter behind it as its maker says");
    verdict.notes = std::move(found.notes);
    return mended_by(std::move(verdict), {DeviceWords{site.name(rcd), "type A"}});
  }
  if (behind.empty()) return not_relevant(subject);
  if (found.undecided.empty()) return holds(subject);
  return open(subject, fmt::format("whether type AC will do for '{}'", site.name(rcd)),
              found.undecided);
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  Behind behind = behind_type_ac(site);
  const std::set<std::size_t> own_to_ev = own_to_ev_points(site, behind);
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const site::Residual* residual = check::residual(site, e);
    if (residual == nullptr) continue;
    if (!residual->type)
      verdicts.push_back(
          open(site.about(e), fmt::format("whether '{}' is at least type A", site.name(e)),
               fmt::format("residual type of '{}' (device: … type A)", site.name(e))));
    else if (own_to_ev.contains(e))
      verdicts.push_back(not_relevant(site.about(e)));
    else if (is_type_ac(site, e))
      verdicts.push_back(judge_type_ac(site, e, behind[e]));
    else
      verdicts.push_back(holds(site.about(e)));
  }
  return verdicts;
}

}  // namespace

extern const check::Rule type_at_least_a{
    .id = "rcd/type-at-least-a",
    .severity = Severity::breach,
    .must_hold =
        "RCDs are of type A or better; type AC only where the country allows it and only "
        "for fixed equipment whose current has no direct part.",
    .why = "Electronic loads give pulsating direct fault currents, which a type AC does not see.",
    .clauses = {"IEC 60364-5-53 531.3.3", "BS 7671 531.3.3", "DIN VDE 0100-530",
                "AS/NZS 3000 2.6.2"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"rcd type AC forbidden"},
    .example = R"(site: {name: Sockets on a type AC}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type AC 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
