// Speaks when the line and the neutral of a circuit pass different protective devices, whether in
// one RCD's case (danger) or in plain breakers only (breach), and when the neutral comes home to
// another source than the line's. Circuits whose neutrals lie on the same wrong bar are one
// finding. A neutral that reaches no source at all is left to earthing/one-neutral-bond-per-state.
// Devices on only one of two neutral ways in parallel are left to parallel-neutral-path; a neutral
// on the other side of a transfer to earthing/neutrals-of-backup-and-other-circuits-apart. A
// breaker that carries no neutral is not expected on the neutral's way.

#include <algorithm>
#include <map>
#include <string>
#include <tuple>
#include <utility>

#include <fmt/core.h>

#include "check/causes.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/sides.hpp"
#include "network/neutral_paths.hpp"

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

/// Circuits of one state that hang on the same wrong joint.
struct Group {
  std::vector<check::HurtCircuit> circuits;
  std::vector<Difference> differences;
  const StateView* state = nullptr;

  std::vector<std::size_t> loads() const {
    std::vector<std::size_t> list;
    for (const check::HurtCircuit& each : circuits)
      list.push_back(each.load);
    return list;
  }
};

/// The circuits whose N reaches another source than their line, by that source and neutral.
Verdict not_home(const AnalysedSite& site, const Group& group, std::size_t source) {
  const std::vector<std::size_t> loads = group.loads();
  const bool alone = loads.size() == 1;
  Verdict verdict = broken(
      check::about_circuits(site, group.circuits, group.state),
      fmt::format("N of {} does not reach {} that feeds {}", check::circuits_named(site, loads),
                  check::quoted(site, source), alone ? "its line" : "their lines"),
      "bring the neutral back on the same way as the line");
  if (!alone) verdict.notes = check::circuits_by_board(site, loads, "on this neutral");
  return verdict;
}

/// The lines of several circuits pass the same devices, or each its own.
std::string shown_lines(const AnalysedSite& site, const Group& group) {
  const auto& first = group.differences.front().line_only;
  const bool alike = std::ranges::all_of(
      group.differences, [&](const Difference& each) { return each.line_only == first; });
  return alike ? shown(site, first) : "a device of its own";
}

/// A key that several circuits share by `quantity` stands once in the file.
std::vector<Edit> without_borrowing(const AnalysedSite& site, const Group& group) {
  std::vector<Edit> edits;
  std::vector<Place> done;
  for (const std::size_t load : group.loads()) {
    if (std::ranges::count(done, site.element(load).where) > 0) continue;
    done.push_back(site.element(load).where);
    edits.emplace_back(TakenOut{site.name(load), "neutral from"});
  }
  return edits;
}

Verdict borrowed(const AnalysedSite& site, const Group& group) {
  const Difference& found = group.differences.front();
  const std::vector<std::size_t> loads = group.loads();
  Verdict verdict = broken(check::about_circuits(site, group.circuits, group.state),
                           fmt::format("{}: line through {}, N through {}, must be one way",
                                       check::circuits_named(site, loads), shown_lines(site, group),
                                       shown(site, found.neutral_only)),
                           "bring the neutral to the bar that belongs to the line's own device");
  if (!found.in_rcd) verdict.severity = Severity::breach;
  verdict.edits = without_borrowing(site, group);
  if (loads.size() > 1)
    verdict.notes = check::circuits_by_board(site, loads, "N is not with the line");
  else
    for (const std::size_t device : found.line_only)
      verdict.notes.push_back({site.element(device).where,
                               fmt::format("only the line passes '{}'", site.name(device))});
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

/// What the loops of one state say, those with one cause together.
class Judge {
 public:
  Judge(const AnalysedSite& site, const StateView& state, std::vector<Verdict>& verdicts)
      : site_(site), state_(state), verdicts_(verdicts) {}

  void look_at(const Loop& loop) {
    const Subject subject = site_.about(loop.load, &state_);
    if (!has_neutral(site_, loop)) {
      verdicts_.push_back(not_relevant(subject));
    } else if (!loop.neutral_joined) {
      look_at_lost(loop);
    } else if (Difference found = difference(site_, loop); found.none()) {
      verdicts_.push_back(holds(subject));
    } else {
      // One wrong bar may hold the neutrals of many; without one, a way past their device does.
      const auto& bar = found.neutral_only.empty() ? found.line_only : found.neutral_only;
      Group& group = borrowed_[{found.in_rcd, found.neutral_only.empty(), bar}];
      if (add(loop, group)) group.differences.push_back(std::move(found));
    }
  }

  void tell() {
    for (const auto& [cause, group] : borrowed_)
      verdicts_.push_back(borrowed(site_, group));
    for (const auto& [cause, group] : not_home_)
      verdicts_.push_back(not_home(site_, group, cause.first));
  }

 private:
  /// Whether the circuit is new there: several sources may feed it on the same ways.
  bool add(const Loop& loop, Group& group) {
    if (std::ranges::count(group.circuits, loop.load, &check::HurtCircuit::load) > 0) return false;
    group.circuits.push_back({loop.load, loop.load});
    group.state = &state_;
    return true;
  }

  void look_at_lost(const Loop& loop) {
    const Subject subject = site_.about(loop.load, &state_);
    const std::uint32_t own = site_.network.neutral(loop.load, 0);
    if (state_.possibly_joined(own, network::source_neutral(site_.network, loop.source)))
      verdicts_.push_back(
          open(subject,
               fmt::format("whether N of '{}' reaches {}", check::circuit_name(site_, loop.load),
                           check::quoted(site_, loop.source)),
               "poles or position of the devices between them"));
    else if (check::neutral_lost(site_, state_, loop.load))
      verdicts_.push_back(not_relevant(subject));
    else
      add(loop, not_home_[{loop.source, state_.component[own]}]);
  }

  const AnalysedSite& site_;
  const StateView& state_;
  std::vector<Verdict>& verdicts_;
  std::map<std::tuple<bool, bool, std::vector<std::size_t>>, Group> borrowed_;
  std::map<std::pair<std::size_t, std::uint32_t>, Group> not_home_;  ///< by source and neutral
};

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const std::vector<std::size_t> across = loads_across_sides(site);
  for (const StateView& state : site.states) {
    Judge judge(site, state, verdicts);
    for (const Loop& loop : state.loops) {
      const bool told = (!loop.neutral_joined && borrowed_in_some_state(site, loop.load)) ||
                        std::ranges::count(across, loop.load) > 0;
      if (told)
        verdicts.push_back(not_relevant(site.about(loop.load, &state)));
      else
        judge.look_at(loop);
    }
    judge.tell();
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
