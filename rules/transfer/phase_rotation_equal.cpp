// Speaks of three-phase loads that several sources can feed: whether they turn the same way on
// each, crossed cores counted. An inverter that closes in step with a grid turns as that grid does.
#include <algorithm>
#include <map>
#include <optional>

#include <fmt/core.h>

#include "check/line_order.hpp"
#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using check::Arrival;

/// Loads that a source feeds beside others, each with whether its order is turned on the way.
struct Fed {
  std::map<std::size_t, bool> turned;  ///< by load
};

/// A source that says how it turns.
struct Measure {
  std::size_t source = site::none;
  site::Rotation rotation;
};

class Judge {
 public:
  explicit Judge(const AnalysedSite& site) : site_(site) {
    for (const Arrival& arrival : check::arrivals(site)) {
      fed_[arrival.source].turned.emplace(arrival.load, arrival.order_turned);
      by_load_[arrival.load].push_back(arrival.source);
    }
  }

  std::vector<Verdict> run() {
    for (const auto& [source, fed] : fed_)
      if (shared(fed)) judge(source, fed);
    if (verdicts_.empty()) verdicts_.push_back(not_relevant({}));
    return std::move(verdicts_);
  }

 private:
  bool has_other(std::size_t load) const {
    const auto& sources = by_load_.at(load);
    return std::ranges::any_of(sources, [&](std::size_t s) { return s != sources.front(); });
  }
  bool shared(const Fed& fed) const {
    return std::ranges::any_of(fed.turned, [&](const auto& each) { return has_other(each.first); });
  }

  /// The source that the others are held against: the first of the site that says its rotation.
  std::optional<Measure> measure() const {
    for (const auto& [source, fed] : fed_) {
      if (!shared(fed)) continue;
      if (const auto rotation = check::rotation_of(site_, source))
        return Measure{source, *rotation};
    }
    return std::nullopt;
  }

  void judge(std::size_t source, const Fed& fed) {
    const Subject subject = site_.about(source);
    const auto own = check::rotation_of(site_, source);
    const std::optional<Measure> other = measure();
    if (!own && check::follows_a_grid(site_, source)) {
      verdicts_.push_back(holds(subject));
      return;
    }
    if (!own || !other) {
      verdicts_.push_back(open(
          subject, fmt::format("in which order the lines of {} turn", check::quoted(site_, source)),
          fmt::format("'rotation' of {}", check::quoted(site_, source))));
      return;
    }
    if (source == other->source) {
      verdicts_.push_back(holds(subject));
      return;
    }
    compare(source, *own, fed, *other);
  }

  void compare(std::size_t source, site::Rotation own, const Fed& fed, const Measure& other) {
    const Fed& first = fed_.at(other.source);
    const bool same = own == other.rotation;
    std::vector<std::size_t> wrong;
    for (const auto& [load, turned] : fed.turned) {
      const auto there = first.turned.find(load);
      if (there != first.turned.end() && (same == (turned != there->second))) wrong.push_back(load);
    }
    verdicts_.push_back(
        asks(site_.about(source),
             fmt::format("in which order do the lines of {} and {} turn where they change over",
                         check::quoted(site_, source), check::quoted(site_, other.source)),
             "the same on both"));
    if (wrong.empty()) {
      verdicts_.push_back(holds(site_.about(source)));
      return;
    }
    Verdict verdict = broken(
        site_.about(source),
        fmt::format("{} turns {} the other way round than {}", check::quoted(site_, source),
                    check::circuits_in_words(site_, wrong), check::quoted(site_, other.source)),
        fmt::format("exchange two lines where {} is joined", check::quoted(site_, source)));
    verdict.notes = check::circuit_notes(site_, wrong, "has three lines");
    verdicts_.push_back(std::move(verdict));
  }

  const AnalysedSite& site_;
  std::map<std::size_t, Fed> fed_;                           ///< by source, in file order
  std::map<std::size_t, std::vector<std::size_t>> by_load_;  ///< sources of each load
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  return Judge(site).run();
}

}  // namespace

extern const check::Rule phase_rotation_equal{
    .id = "transfer/phase-rotation-equal",
    .severity = Severity::danger,
    .must_hold =
        "All sources that can feed the same three-phase loads turn them in the same direction.",
    .why = "Pumps and compressors run backwards on the other source, and fail or flood.",
    .clauses = {"IEC 60364-6 6.4.3.9"},
    .confirmation = check::Confirmation::partly,
    .profile_keys = {},
    .example = R"(# The generator turns the other way round.
supply: {system: 3/N/PE 230/400 V 50 Hz, earthing: TN-S, rotation: clockwise}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 15 kVA, neutral: linked, fixed: yes, rotation: anticlockwise}
devices:
  -Q1: {device: changeover I-0-II 63 A 4P by hand, break before make: yes}
boards:
  +A1:
    feed: [-Q1, -W4 5×10 mm² 5 m]
    circuits:
      - {name: Pump, device: C16 4P 30 mA type A, cable: 5×2.5 mm² 12 m, load: 4 kW, use: motor}
chains:
  - [supply, -Q1:I]
  - [-G2, -W2 5×6 mm² 9 m, -Q1:II]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
