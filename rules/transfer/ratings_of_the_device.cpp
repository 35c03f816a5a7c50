// Speaks of changeovers and contactors between sources: rated current against the devices ahead,
// utilisation category against the loads, and short-circuit current against what the supply is
// declared to drive. Fault currents at the place of the device are not worked out: a device that
// withstands less than the supply's greatest is asked about. Neutral poles are taken as full size.
#include <algorithm>
#include <optional>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rule.hpp"
#include "check/second_bonds.hpp"
#include "check/transfer_devices.hpp"
#include "network/ways.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

/// What loads ask of contacts, in rising order.
enum class Duty { heating, mixed, motors };

Duty duty_of(const site::LoadGroup& load) {
  switch (load.use) {
    case site::Use::motor:
    case site::Use::heat_pump:
      return Duty::motors;
    case site::Use::cooking:
      return Duty::heating;
    default:
      return load.start_factor && *load.start_factor > 1.0 ? Duty::motors : Duty::mixed;
  }
}

/// What a utilisation category is made for (IEC 60947-3, -4-1, -6-1; from memory).
std::optional<Duty> made_for(std::string_view category) {
  const auto begins = [&](std::string_view with) {
    return category.starts_with(with) &&
           (category.size() == with.size() || category[with.size()] < '0' ||
            category[with.size()] > '9');
  };
  for (const char* each : {"AC-33", "AC-23", "AC-2", "AC-3", "AC-4"})
    if (begins(each)) return Duty::motors;
  for (const char* each : {"AC-32", "AC-22", "AC-1", "AC-35", "AC-36"})
    if (begins(each)) return Duty::mixed;
  for (const char* each : {"AC-31", "AC-21", "AC-20"})
    if (begins(each)) return Duty::heating;
  return std::nullopt;
}

class Judge {
 public:
  Judge(const AnalysedSite& site, std::size_t element)
      : site_(site),
        element_(element),
        subject_(site.about(element)),
        name_(site.name(element)),
        device_(*site::facts<site::Device>(site.element(element))) {}

  std::vector<Verdict> run() {
    judge_current();
    judge_category();
    judge_withstand();
    if (verdicts_.empty()) verdicts_.push_back(holds(subject_));
    return std::move(verdicts_);
  }

 private:
  void ask(std::string message, std::string missing) {
    verdicts_.push_back(open(subject_, std::move(message), std::move(missing)));
  }

  /// The devices right ahead of it, in any state and from any source.
  std::vector<std::size_t> devices_ahead() const {
    std::vector<std::size_t> ahead;
    for (const network::StateView& state : site_.states)
      for (std::size_t t = 0; t < site_.element(element_).terminals.size(); ++t)
        for (const check::FeedOf& feed : check::feeds_of(site_, state, element_, t))
          if (feed.device != site::none && std::ranges::count(ahead, feed.device) == 0)
            ahead.push_back(feed.device);
    return ahead;
  }

  void judge_current() {
    if (!device_.rated_current)
      return ask(fmt::format("whether '{}' carries its feeds", name_),
                 fmt::format("rated current of '{}'", name_));
    for (const std::size_t ahead : devices_ahead()) {
      const auto& rated = site::facts<site::Device>(site_.element(ahead))->rated_current;
      if (!rated || *rated <= *device_.rated_current) continue;
      verdicts_.push_back(
          broken(subject_,
                 fmt::format("'{}' carries {}, '{}' ahead lets {} through", name_,
                             print(*device_.rated_current), site_.name(ahead), print(*rated)),
                 "fit a larger transfer device, or a smaller device ahead of it"));
      return;
    }
  }

  /// The heaviest duty of the loads that it feeds in any state, and such a load.
  std::pair<Duty, std::size_t> duty() const {
    std::pair<Duty, std::size_t> heaviest{Duty::heating, site::none};
    for (const network::StateView& state : site_.states)
      for (const network::SourcePoint& source : site_.network.sources) {
        if (!source.forming || std::ranges::count(state.state->running, source.element) == 0)
          continue;
        const network::WaysFrom ways(site_.network, site_.site, state.positions, source);
        for (const std::size_t load : state.alive_loads) {
          if (!ways.lines_to(load, 0).may_pass(element_)) continue;
          const Duty here = duty_of(*site::facts<site::LoadGroup>(site_.element(load)));
          if (heaviest.second == site::none || here > heaviest.first) heaviest = {here, load};
        }
      }
    return heaviest;
  }

  void judge_category() {
    const auto [needed, load] = duty();
    if (load == site::none) return;
    const std::optional<Duty> fit = made_for(device_.category);
    if (!fit)
      return ask(fmt::format("whether '{}' is made for what it switches", name_),
                 fmt::format("'category' of '{}', such as AC-33", name_));
    if (*fit >= needed) return;
    Verdict verdict =
        broken(subject_,
               fmt::format("'{}' of {} is not made for what it switches", name_, device_.category),
               needed == Duty::motors ? "fit one of AC-33 (a contactor: AC-3), made for motors"
                                      : "fit one of AC-32 (a contactor: AC-1) or better");
    verdict.notes.push_back({site_.element(load).where, "this circuit hangs on it"});
    verdicts_.push_back(std::move(verdict));
  }

  void judge_withstand() {
    const std::size_t supply = check::supply_of(site_);
    if (supply == site::none || !reaches(supply)) return;
    const auto& most = site::facts<site::Supply>(site_.element(supply))->fault_current_max;
    const std::string message = fmt::format("whether '{}' withstands a short circuit", name_);
    if (!most) return ask(message, "'fault current' of the supply");
    if (!device_.withstand) return ask(message, fmt::format("'withstands' of '{}'", name_));
    if (*device_.withstand < *most)
      ask(message, fmt::format("'withstands' of '{}' of {}, or the fault current at its place",
                               name_, print(*most)));
  }

  bool reaches(std::size_t source) const {
    for (std::size_t t = 0; t < site_.element(element_).terminals.size(); ++t)
      if (std::ranges::count(check::sources_reached(site_, element_, t), source) > 0) return true;
    return false;
  }

  const AnalysedSite& site_;
  std::size_t element_;
  Subject subject_;
  const std::string& name_;
  const site::Device& device_;
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (const check::TransferDevice& transfer : check::transfer_devices(site)) {
    if (transfer.sources.size() < 2) continue;
    for (Verdict& verdict : Judge(site, transfer.element).run())
      verdicts.push_back(std::move(verdict));
  }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule ratings_of_the_device{
    .id = "transfer/ratings-of-the-device",
    .severity = Severity::breach,
    .must_hold =
        "A transfer carries the largest feed, is made for its loads, and withstands the short "
        "circuit on each side.",
    .why = "A changeover that welds shut takes every interlock with it.",
    .clauses = {"IEC 60947-6-1 5.3, 5.4"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# The fuse ahead lets through more than the changeover carries.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S, fuse: 80 A gG, fault current: 5 kA}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 5 kVA, neutral: linked, fixed: yes}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes, category: AC-33, withstands: 5 kA}
boards:
  +A1:
    feed: [-Q1, -W4 3×16 mm² 5 m]
    circuits:
      - {name: Pump, device: C16 1P+N 30 mA type A, cable: 3×2.5 mm² 12 m, load: 1 kW, use: motor}
chains:
  - [supply, -Q1:I]
  - [-G2, -F2 C25 2P, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
