// Speaks of positions that no state names: of each two sources that must not meet, every way of
// closing devices that would join them, and what forbids that way. Pairs that meet in a named state
// are left to no-unsynchronised-paralleling, no-backfeed-to-dead-grid, generator-inlet and the
// bypass rules, and changeovers whose contacts overlap to break-before-make, so that one mistake is
// told once.
#include <algorithm>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/naming.hpp"
#include "check/rule.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::SourcePair;
using network::SwitchAt;

/// Devices that join two sources while nothing forbids it.
struct Unguarded {
  std::vector<std::size_t> devices;  ///< sorted; empty if nothing at all is between
  SourcePair pair;
  std::vector<SwitchAt> way;
};

std::string name(const AnalysedSite& site, std::size_t source) {
  return check::quoted(site, site.network.sources[source].element);
}

network::WaysToJoin ways(const AnalysedSite& site, SourcePair pair) {
  return network::ways_to_join(site.network, network::line_nodes(site.network, pair.a),
                               network::line_nodes(site.network, pair.b),
                               check::treatment_of(site, pair));
}

std::vector<std::size_t> devices_of(const AnalysedSite& site, const std::vector<SwitchAt>& way) {
  std::vector<std::size_t> devices;
  for (const SwitchAt at : way)
    devices.push_back(site.network.switches[static_cast<std::size_t>(at.by)].element);
  std::ranges::sort(devices);
  return devices;
}

class Judge {
 public:
  explicit Judge(const AnalysedSite& site) : site_(site) {}

  std::vector<Verdict> run() {
    for (const SourcePair pair : check::pairs_kept_apart(site_))
      judge(pair);
    for (const Unguarded& way : unguarded_)
      if (is_least(way)) tell(way);
    if (verdicts_.empty()) verdicts_.push_back(not_relevant({}));
    return std::move(verdicts_);
  }

 private:
  void judge(SourcePair pair) {
    const network::WaysToJoin found = ways(site_, pair);
    const Subject subject = site_.about(site_.network.sources[pair.b].element);
    if (!found.complete) {
      verdicts_.push_back(
          open(subject,
               fmt::format("whether {} and {} can meet", name(site_, pair.a), name(site_, pair.b)),
               "interlocks ('never together') that leave fewer positions between them"));
      return;
    }
    bool sound = true;
    for (const auto& way : found.ways) {
      const site::Interlock* interlock = network::excluded_by(site_.network, site_.site, way);
      if (interlock == nullptr) unguarded_.push_back({devices_of(site_, way), pair, way});
      sound = interlock != nullptr && weigh(*interlock) && sound;
    }
    if (sound) verdicts_.push_back(holds(subject));
  }

  /// A lever couples what stands side by side: devices in different enclosures have to be looked
  /// at.
  void ask_for_lever(const site::Interlock& interlock) {
    std::vector<std::size_t> devices;
    for (const site::PositionOf& each : interlock.never_together)
      devices.push_back(each.element);
    const auto board = [&](std::size_t device) { return site_.element(device).assembly; };
    const bool together = board(devices.front()) != site::none &&
                          std::ranges::all_of(devices, [&](std::size_t device) {
                            return board(device) == board(devices.front());
                          });
    if (together) return;
    verdicts_.push_back(
        asks({interlock.where, site_.name(devices.front()), {}},
             fmt::format("does a lever couple {}, which the file does not put into one enclosure",
                         check::quoted(site_, devices)),
             "side by side, and neither can be closed while the other is"));
  }

  /// What an interlock is worth that is all there is between two sources; false if not enough.
  bool weigh(const site::Interlock& interlock) {
    const bool is_new = std::ranges::count(weighed_, &interlock) == 0;
    weighed_.push_back(&interlock);
    if (interlock.means == site::InterlockMeans::mechanical && is_new) ask_for_lever(interlock);
    if (interlock.means == site::InterlockMeans::mechanical ||
        interlock.means == site::InterlockMeans::key)
      return true;
    if (!is_new) return false;
    std::vector<std::size_t> devices;
    for (const auto& wanted : interlock.never_together)
      devices.push_back(wanted.element);
    const std::string between = check::quoted(site_, devices);
    const Subject subject{interlock.where, site_.name(devices.front()), {}};
    if (interlock.means == site::InterlockMeans::unknown) {
      verdicts_.push_back(
          open(subject, fmt::format("whether the interlock of {} holds by construction", between),
               fmt::format("'by' of the interlock of {}: mechanical, key, electrical or control",
                           between)));
      return false;
    }
    const bool electrical = interlock.means == site::InterlockMeans::electrical;
    Verdict verdict =
        broken(subject,
               fmt::format("{} exclude each other by {} means only", between,
                           electrical ? "electrical" : "control"),
               "add a mechanical or key interlock: a welded contact defeats this one");
    verdict.severity = electrical ? Severity::advice : Severity::breach;
    verdict.edits = {mechanical(interlock)};
    verdicts_.push_back(verdict);
    return false;
  }

  /// The same positions, excluded by a lever.
  NewInterlock mechanical(const site::Interlock& interlock) const {
    NewInterlock made{{}, "mechanical"};
    for (const site::PositionOf& each : interlock.never_together)
      made.never_together.push_back({site_.name(each.element), each.position, each.part});
    return made;
  }

  // One missing interlock opens a way between many pairs; the least set of devices is the cause.
  bool is_least(const Unguarded& way) const {
    return std::ranges::none_of(unguarded_, [&](const Unguarded& other) {
      if (&other == &way || other.devices.empty()) return false;
      if (other.devices == way.devices) return &other < &way;
      return std::ranges::includes(way.devices, other.devices);
    });
  }

  void tell(const Unguarded& way) {
    const std::string sources =
        fmt::format("{} and {}", name(site_, way.pair.a), name(site_, way.pair.b));
    const bool bare = way.devices.empty();
    const std::size_t at = bare ? site_.network.sources[way.pair.b].element : way.devices.back();
    Verdict verdict =
        broken(site_.about(at),
               bare ? fmt::format("nothing keeps {} apart", sources)
                    : fmt::format("nothing keeps {} from joining {}",
                                  check::quoted(site_, way.devices), sources),
               bare ? "put a changeover between them that breaks all live conductors"
                    : "fit a mechanical or key interlock, or one changeover in their place");
    for (const std::size_t device : way.devices)
      if (device != at)
        verdict.notes.push_back({site_.element(device).where,
                                 fmt::format("'{}' can be closed as well", site_.name(device))});
    verdict.edits = mechanical(way.way);
    verdicts_.push_back(verdict);
  }

  /// Two devices can be coupled by a lever; inner contacts and longer ways need another remedy.
  std::vector<Edit> mechanical(const std::vector<SwitchAt>& way) const {
    if (way.size() != 2) return {};
    NewInterlock interlock{{}, "mechanical"};
    for (const SwitchAt at : way) {
      const network::Switch& it = site_.network.switches[static_cast<std::size_t>(at.by)];
      if (!it.part.empty()) return {};
      interlock.never_together.push_back(
          {site_.name(it.element), it.positions[static_cast<std::size_t>(at.position)], {}});
    }
    return {interlock};
  }

  const AnalysedSite& site_;
  std::vector<Unguarded> unguarded_;
  std::vector<const site::Interlock*> weighed_;
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  return Judge(site).run();
}

}  // namespace

extern const check::Rule interlock_by_construction{
    .id = "transfer/interlock-by-construction",
    .severity = Severity::danger,
    .must_hold =
        "Sources that must not meet are kept apart by construction: one changeover that "
        "breaks before it makes, or a mechanical or key interlock.",
    .why =
        "Two switches and a notice are closed together one night by someone in a hurry; an "
        "interlock in wires or in a program is lost with one welded contact.",
    .clauses = {"IEC 60364-5-55 551.6.1", "IEC 60947-6-1"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# Two contactors, and nothing but good will keeps them from closing together.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 5 kVA, neutral: linked}
boards:
  +A1:
    feed: [supply, -Q11 switch-disconnector 63 A 2P isolating lockable, -Q1 contactor 63 A 2P]
chains:
  - [-G2, -W2 3×6 mm² 9 m, -Q12 switch-disconnector 63 A 2P isolating lockable, -Q2 contactor 63 A 2P, A1]
states:
  grid: {-Q1: closed}
  generator: {-Q2: closed}
)",
    .check = check_site,
};

}  // namespace linewright::rules
