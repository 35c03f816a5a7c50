// Speaks when a circuit that needs additional protection has it from no source in no state. Where
// it has it from one source but not from another, between-source-and-load-in-every-state speaks
// (bypass-path-keeps-rcd for a bypass). A device that is there but cannot see the fault, since the
// current does not come home or comes back through it, is the business of the earthing rules about
// neutral-earth bonds: not relevant here, and no pass either.

#include <algorithm>
#include <map>
#include <optional>
#include <tuple>

#include <fmt/core.h>

#include "check/causes.hpp"
#include "check/rcd_cover.hpp"
#include "check/remedies.hpp"
#include "check/rule.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::CircuitCover;
using check::Standing;

/// What the circuit has instead: no device, one too coarse, or one that waits.
std::string found_instead(const AnalysedSite& site, const network::Loop& loop) {
  if (loop.rcds.empty()) return "no RCD";
  const site::Residual& last = *check::residual(site, loop.rcds.back().element);
  if (!last.operating_current) return "no RCD";
  const bool waits = last.delay == site::ResidualDelay::selective;
  return fmt::format("an RCD of {}{}", *last.operating_current, waits ? " type S" : "");
}

/// The breaker or RCD of the circuit with such a residual side; none where it has another device.
std::vector<Edit> rcd_in_circuit(const AnalysedSite& site, const network::Loop& loop) {
  const std::size_t element = check::circuit_device(loop);
  const auto* device = site::facts<site::Device>(site.element(element));
  const auto limit = site.profile.current("rcd limit");
  const bool takes_one =
      device != nullptr && (device->kind == site::DeviceKind::breaker || device->residual);
  if (!takes_one || !limit) return {};
  const auto& load = std::get<site::LoadGroup>(site.element(loop.load).facts);
  std::string words = print(*limit);
  if (device->residual) words += " general";
  if (!device->residual || !device->residual->type)
    words += load.use == site::Use::ev ? " type B" : " type A";
  std::vector<Edit> edits{DeviceWords{site.name(element), words}};
  if (device->poles && !device->poles->neutral)
    edits.push_back(check::poles_with_neutral(site, element));
  return edits;
}

/// Circuits that lack it for one cause: they come from one line of the file (`quantity`), or share
/// an RCD that is too coarse.
struct Lacking {
  std::string instead;
  std::vector<check::HurtCircuit> circuits;
  std::vector<const network::Loop*> loops;
  std::vector<const network::StateView*> states;
};

/// The RCD that the circuits share, else the place of their line in the file.
using Cause = std::tuple<std::string, std::size_t, Place>;

Cause cause_of(const AnalysedSite& site, const network::Loop& loop, const std::string& instead) {
  const bool shared = !loop.rcds.empty() && loop.rcds.back().element != check::circuit_device(loop);
  if (shared) return {instead, loop.rcds.back().element, Place{}};
  return {instead, site::none, site.element(loop.load).where};
}

void add(const AnalysedSite& site, const CircuitCover& cover, const std::string& instead,
         std::map<Cause, Lacking>& lacking, std::map<std::size_t, Cause>& causes) {
  const network::Loop& loop = *cover.loop;
  const Cause& cause = causes.try_emplace(loop.load, cause_of(site, loop, instead)).first->second;
  Lacking& group = lacking[cause];
  group.instead = instead;
  if (std::ranges::count(group.circuits, loop.load, &check::HurtCircuit::load) == 0) {
    group.circuits.push_back({loop.load, check::circuit_device(loop)});
    group.loops.push_back(&loop);
  }
  if (std::ranges::count(group.states, cover.state) == 0) group.states.push_back(cover.state);
}

/// The edits of every circuit, those of one line once; none where one circuit has none.
std::vector<Edit> rcd_in_each(const AnalysedSite& site, const Lacking& group) {
  std::vector<Edit> edits;
  std::vector<Place> done;
  for (const network::Loop* loop : group.loops) {
    const Place& line = site.element(loop->load).where;
    if (std::ranges::count(done, line) > 0) continue;
    done.push_back(line);
    const std::vector<Edit> own = rcd_in_circuit(site, *loop);
    if (own.empty()) return {};
    edits.insert(edits.end(), own.begin(), own.end());
  }
  return edits;
}

/// One verdict a state, alike in all of them.
void tell(const AnalysedSite& site, const Lacking& group, std::vector<Verdict>& verdicts) {
  std::vector<std::size_t> loads;
  for (const check::HurtCircuit& each : group.circuits)
    loads.push_back(each.load);
  const bool alone = loads.size() == 1;
  for (const network::StateView* state : group.states) {
    Verdict verdict = broken(
        check::about_circuits(site, group.circuits, state),
        fmt::format("{} {} {}, must have one of {} or less", check::circuits_named(site, loads),
                    alone ? "has" : "have", group.instead, site.profile.text("rcd limit")),
        fmt::format("fit a breaker with RCD in {} circuit, not delayed, for its line and neutral",
                    alone ? "this" : "each"));
    if (!alone) verdict.notes = check::circuits_by_board(site, loads, "without the RCD needed");
    verdicts.push_back(mended_by(std::move(verdict), rcd_in_each(site, group)));
  }
}

/// What one cover says by itself; nothing where the circuit lacks an RCD everywhere.
std::optional<Verdict> judge(const AnalysedSite& site, const CircuitCover& cover) {
  const std::size_t load = cover.loop->load;
  const Subject subject = site.about(check::circuit_device(*cover.loop), cover.state);
  if (cover.wanted != check::Wanted::additional) return not_relevant(subject);
  switch (cover.standing) {
    case Standing::guarded:
    case Standing::skipped:
      return holds(subject);
    case Standing::undecided:
      if (cover.guarded_elsewhere) return holds(subject);
      return open(
          subject,
          fmt::format("whether '{}' has the RCD that it needs", check::circuit_name(site, load)),
          cover.missing);
    case Standing::never:
      return std::nullopt;
    case Standing::unseen:
    case Standing::not_wanted:
      break;
  }
  return not_relevant(subject);
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  std::map<std::size_t, std::string> instead;  // by circuit: told alike in every state
  std::map<Cause, Lacking> lacking;
  std::map<std::size_t, Cause> causes;  // by circuit, the same in every state
  for (const CircuitCover& cover : check::circuit_covers(site)) {
    const std::string found = found_instead(site, *cover.loop);
    const auto told = instead.try_emplace(cover.loop->load, found).first;
    if (auto verdict = judge(site, cover))
      verdicts.push_back(std::move(*verdict));
    else
      add(site, cover, told->second, lacking, causes);
  }
  for (const auto& [cause, group] : lacking)
    tell(site, group, verdicts);
  return verdicts;
}

}  // namespace

extern const check::Rule additional_protection_circuits{
    .id = "rcd/additional-protection-circuits",
    .severity = Severity::danger,
    .must_hold =
        "Sockets for ordinary persons, mobile equipment outdoors, lighting in homes, "
        "bathrooms, EV points, and what the country adds, have an RCD of at most 30 mA "
        "that is not delayed.",
    .why =
        "Whoever touches a live part is saved only by a fast RCD: the current through a body "
        "is far too small for a breaker.",
    .clauses = {"IEC 60364-4-41 411.3.3", "IEC 60364-4-41 411.3.4", "IEC 60364-7-701",
                "IEC 60364-7-722"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {"rcd limit", "rcd sockets", "rcd sockets up to", "rcd outdoors",
                     "rcd lighting in dwellings", "rcd bathroom", "rcd ev", "rcd whole dwelling"},
    .example = R"(site: {name: Sockets on a plain breaker}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 switch-disconnector 63 A 2P]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
