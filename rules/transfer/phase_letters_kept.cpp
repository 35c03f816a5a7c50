// Speaks of lines that arrive under another name, and of a single-phase source whose one line feeds
// what used to be three phases. Lines that are crossed for one source only are left to
// phase-rotation-equal. Of the names at meters nothing is looked at but the way to the loads.
#include <algorithm>

#include <fmt/core.h>

#include "check/line_order.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::Arrival;

bool ties_lines(const AnalysedSite& site, std::size_t source) {
  const auto* set = site::facts<site::Generator>(site.element(source));
  const auto* inverter = site::facts<site::Inverter>(site.element(source));
  return (set != nullptr && set->lines_tied) || (inverter != nullptr && inverter->lines_tied);
}

/// Whether a source of this load arrives in the other order than another one does.
bool told_by_rotation(const std::vector<Arrival>& all, std::size_t load) {
  bool kept = false;
  bool turned = false;
  for (const Arrival& arrival : all) {
    if (arrival.load != load) continue;
    (arrival.order_turned ? turned : kept) = true;
  }
  return kept && turned;
}

/// A cable whose lines are crossed.
struct Crossed {
  const site::Run* run = nullptr;
  site::Conductors lines;
};

/// The first of them, where the loads hang behind it.
Crossed first_crossed(const AnalysedSite& site) {
  for (const site::Run& run : site.site.runs)
    if (run.cable && !run.cable->crossed.empty()) return {&run, run.cable->crossed};
  return {};
}

void judge_names(const AnalysedSite& site, std::vector<Verdict>& verdicts) {
  const std::vector<Arrival> all = check::arrivals(site);
  std::vector<std::size_t> wrong;
  for (const Arrival& arrival : all)
    if (!arrival.names_kept && !told_by_rotation(all, arrival.load) &&
        std::ranges::count(wrong, arrival.load) == 0)
      wrong.push_back(arrival.load);
  const auto [run, lines] = first_crossed(site);
  if (run == nullptr) return;
  const Subject subject{run->where, run->designation, {}};
  if (wrong.empty()) {
    verdicts.push_back(holds(subject));
    return;
  }
  Verdict verdict = broken(subject,
                           fmt::format("'{}' crosses {} on the way to {}", run->designation,
                                       site::words(lines), check::circuits_in_words(site, wrong)),
                           "join each line to the terminal of its own name");
  verdict.notes = check::circuit_notes(site, wrong, "gets its lines under other names");
  verdicts.push_back(std::move(verdict));
}

/// Cables behind a tied source that have several lines and one neutral for them.
std::vector<const site::Run*> shared_neutrals(const AnalysedSite& site, std::size_t source) {
  std::vector<const site::Run*> runs;
  const auto out = network::line_nodes(site.network, network::source_of(site.network, source));
  for (const site::Run& run : site.site.runs) {
    const site::Conductors lines = run.conductors & site::lines;
    if (!run.cable || lines.count() < 2 || !run.conductors.has(site::Conductor::n)) continue;
    const auto there = network::line_nodes(site.network, run.to.element, run.to.terminal);
    const bool fed = std::ranges::any_of(site.states, [&](const network::StateView& state) {
      return std::ranges::count(state.state->running, source) > 0 &&
             network::any_joined(state, out, there);
    });
    if (fed) runs.push_back(&run);
  }
  return runs;
}

void judge_tied(const AnalysedSite& site, std::size_t source, std::vector<Verdict>& verdicts) {
  const Subject subject = site.about(source);
  const auto runs = shared_neutrals(site, source);
  if (runs.empty()) {
    verdicts.push_back(holds(subject));
    return;
  }
  Verdict verdict = broken(
      subject,
      fmt::format("one line of '{}' feeds L1, L2 and L3 over a shared neutral", site.name(source)),
      "feed single-phase circuits with neutrals of their own from it, or fit three phases");
  for (const site::Run* run : runs)
    verdict.notes.push_back(
        {run->where, fmt::format("'{}' has one neutral for {}", run->designation,
                                 site::words(run->conductors & site::lines))});
  verdicts.push_back(std::move(verdict));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  judge_names(site, verdicts);
  for (const network::SourcePoint& source : site.network.sources)
    if (ties_lines(site, source.element)) judge_tied(site, source.element, verdicts);
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule phase_letters_kept{
    .id = "transfer/phase-letters-kept",
    .severity = Severity::breach,
    .must_hold =
        "L1, L2 and L3 keep their names through every transfer, and one line never feeds three "
        "over "
        "a neutral sized for one.",
    .why =
        "Limits and meters of a phase act on the wrong one; three lines tied together load the "
        "neutral they share threefold, and nothing trips.",
    .clauses = {"IEC 60364-5-52 524", "IEC 60364-4-43 431.2"},
    .confirmation = check::Confirmation::memory,
    .profile_keys = {},
    .example = R"(# Two lines change places on the way to the board.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 5×16 mm² 3 m crossed L1 L3]
    circuits:
      - {name: Oven, device: B16 4P 30 mA type A, cable: 5×2.5 mm² 12 m, load: 4 kW, use: cooking}
)",
    .check = check_site,
};

}  // namespace linewright::rules
