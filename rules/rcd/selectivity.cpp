// Speaks about two RCDs in series, neighbours on the way from a source to a circuit. The finding
// stands at the upper one and names the lower ones. It is advice, as selectivity is not compulsory
// everywhere, except where the upper one stands ahead of an inverter that takes over when the
// voltage is gone: there its trip starts the backup into the fault.

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <string>

#include <fmt/core.h>

#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/source_ways.hpp"
#include "units/print.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;

struct Pair {
  const StateView* state;
  std::size_t upper;
  friend auto operator<=>(const Pair&, const Pair&) = default;
};

/// Neighbouring RCDs on the loops, by state and upper device.
std::map<Pair, std::set<std::size_t>> pairs_in_series(const AnalysedSite& site) {
  std::map<Pair, std::set<std::size_t>> lower_ones;
  for (const StateView& state : site.states)
    for (const network::Loop& loop : state.loops)
      for (std::size_t i = 1; i < loop.rcds.size(); ++i)
        lower_ones[{&state, loop.rcds[i - 1].element}].insert(loop.rcds[i].element);
  return lower_ones;
}

/// Whether in some state a source that can go on alone follows on the load side of the device.
bool starts_the_backup(const AnalysedSite& site, const std::vector<check::SourceBehindRcd>& sources,
                       const Pair& pair) {
  return std::ranges::any_of(sources, [&](const check::SourceBehindRcd& behind) {
    return behind.rcd == pair.upper && network::source_point(site.network, behind.source)->forming;
  });
}

/// The devices below one upper RCD.
struct Below {
  std::vector<Note> too_near;  ///< those whose residual current is too near the upper one's
  Current greatest{};
  std::size_t unrated = site::none;
};

Below below(const AnalysedSite& site, Current upper, const std::set<std::size_t>& lower_ones,
            double ratio) {
  Below found;
  for (const std::size_t element : lower_ones) {
    const auto lower = check::residual(site, element)->operating_current;
    if (!lower) {
      found.unrated = element;
      continue;
    }
    found.greatest = std::max(found.greatest, *lower);
    // a hair of tolerance: 3 × 100 mA need not be 300 mA to the last bit
    if (upper < ratio * *lower * (1.0 - 1e-9))
      found.too_near.push_back({site.element(element).where,
                                fmt::format("'{}' of {} is below it", site.name(element), *lower)});
  }
  return found;
}

/// Type S of a residual current of the series that is high enough. None where something below is
/// not rated, or where the upper one is so fine that circuits may rely on it.
std::vector<Edit> waiting(const AnalysedSite& site, std::size_t upper,
                          const std::set<std::size_t>& lower_ones, double ratio) {
  constexpr std::array<Current, 4> series{Current{0.1}, Current{0.3}, Current{0.5}, Current{1.0}};
  const site::Residual& residual = *check::residual(site, upper);
  const auto fine = site.profile.current("rcd limit");
  if (!residual.operating_current || !fine || *residual.operating_current <= *fine) return {};
  Current wanted = *residual.operating_current;
  for (const std::size_t element : lower_ones) {
    const auto lower = check::residual(site, element)->operating_current;
    if (!lower) return {};
    wanted = std::max(wanted, ratio * *lower * (1.0 - 1e-9));
  }
  const auto rated = std::ranges::find_if(series, [&](Current each) { return each >= wanted; });
  if (rated == series.end()) return {};
  std::string words = "S";
  if (wanted > *residual.operating_current) words = print(*rated) + " S";
  return {DeviceWords{site.name(upper), words}};
}

Verdict does_not_wait(const AnalysedSite& site, const Pair& pair,
                      const std::set<std::size_t>& lower_ones, double ratio) {
  const std::string whom = lower_ones.size() == 1
                               ? fmt::format("'{}'", site.name(*lower_ones.begin()))
                               : fmt::format("{} RCDs", lower_ones.size());
  Verdict verdict =
      broken(site.about(pair.upper, pair.state),
             fmt::format("'{}' does not wait for {} below it, must be type S",
                         site.name(pair.upper), whom),
             fmt::format("fit type S of at least {} times the residual current below it", ratio));
  verdict.edits = waiting(site, pair.upper, lower_ones, ratio);
  for (const std::size_t element : lower_ones)
    verdict.notes.push_back(
        {site.element(element).where, fmt::format("'{}' is below it", site.name(element))});
  return verdict;
}

Verdict judge(const AnalysedSite& site, const Pair& pair, const std::set<std::size_t>& lower_ones,
              double ratio) {
  const Subject subject = site.about(pair.upper, pair.state);
  const site::Residual& upper = *check::residual(site, pair.upper);
  if (upper.delay != site::ResidualDelay::selective)
    return does_not_wait(site, pair, lower_ones, ratio);
  const auto unrated = [&](std::size_t element) {
    return open(
        subject,
        fmt::format("whether '{}' is selective to what is below it", site.name(pair.upper)),
        fmt::format("residual operating current of '{}' (device: … 30 mA)", site.name(element)));
  };
  if (!upper.operating_current) return unrated(pair.upper);
  Below found = below(site, *upper.operating_current, lower_ones, ratio);
  if (found.too_near.empty())
    return found.unrated == site::none ? holds(subject) : unrated(found.unrated);
  Verdict verdict =
      broken(subject,
             fmt::format("'{}' trips at {}, must be at least {}", site.name(pair.upper),
                         *upper.operating_current, print_rounded(ratio * found.greatest)),
             "raise its residual current, or lower that of the devices below it");
  verdict.notes = std::move(found.too_near);
  return mended_by(std::move(verdict), waiting(site, pair.upper, lower_ones, ratio));
}

std::vector<Verdict> check(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  const auto ratio = site.profile.number("selectivity ratio");
  if (!ratio) return verdicts;
  const auto sources = check::sources_behind_rcds(site);
  for (const auto& [pair, lower_ones] : pairs_in_series(site)) {
    verdicts.push_back(judge(site, pair, lower_ones, *ratio));
    if (verdicts.back().outcome == Outcome::broken && !starts_the_backup(site, sources, pair))
      verdicts.back().severity = Severity::advice;
  }
  return verdicts;
}

}  // namespace

extern const check::Rule selectivity{
    .id = "rcd/selectivity",
    .severity = Severity::breach,
    .must_hold =
        "Of two RCDs in series the upper one is type S or delayed and has at least three "
        "times the rated residual current of the lower one.",
    .why =
        "Otherwise one fault in the garden drops the whole house, and with a backup system "
        "starts the backup into the fault.",
    .clauses = {"IEC 60364-5-53 536.4.1.4", "BS 7671 536.4.1.4"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {"selectivity ratio"},
    .example = R"(site: {name: Incomer that trips with the sockets and starts the backup}
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -F10 RCD 63 A 2P 100 mA type A two-way]
    circuits:
      - {id: -F1, name: Sockets, device: B16 1P+N 30 mA type A 6 kA, cable: 3×2.5 mm² 20 m, use: sockets}
inverters:
  -T1: {kind: battery, backup side: yes, power: 3 kVA, neutral in island: opened, bond: closes in island, bond rest: open}
chains:
  - [A1, -F2 C20 2P 6 kA two-way, -W2 3×4 mm² 5 m, -T1:ac]
states:
  grid: {}
)",
    .check = check,
};

}  // namespace linewright::rules
