// Speaks of sources that follow a generator and could push power into it: those that do so in a
// named state, and those that one device parts from it without a mechanical or key interlock.
// Sources that cannot follow the generator are left to no-unsynchronised-paralleling and
// interlock-by-construction.
#include <algorithm>

#include <fmt/core.h>

#include "check/meeting.hpp"
#include "check/rule.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;
using network::StateView;
using network::SwitchAt;
using network::Treat;

/// The two safeguards together, or the maker's word that the generator takes power back.
enum class Fitness { fit, unfit, unknown };

Fitness fitness(const site::Generator& generator, const site::Inverter& inverter) {
  if (generator.takes_power_back == true) return Fitness::fit;
  if (inverter.zero_feed_to_generator == false || generator.reverse_power_relay == false)
    return Fitness::unfit;
  if (inverter.zero_feed_to_generator && generator.reverse_power_relay) return Fitness::fit;
  return Fitness::unknown;
}

class Judge {
 public:
  Judge(const AnalysedSite& site, std::size_t generator, std::size_t follower)
      : site_(site),
        g_(generator),
        f_(follower),
        generator_(site.network.sources[generator].element),
        inverter_(site.network.sources[follower].element) {}

  std::vector<Verdict> run() {
    const Fitness fit = fitness(*site::facts<site::Generator>(site_.element(generator_)),
                                *site::facts<site::Inverter>(site_.element(inverter_)));
    for (const StateView& state : site_.states) {
      const network::Zone* zone = state.zone_of(generator_);
      if (zone != nullptr && check::runs(state, generator_) &&
          std::ranges::count(zone->following, inverter_) > 0)
        tell(fit, &state);
    }
    if (verdicts_.empty()) judge_other_positions(fit);
    if (verdicts_.empty()) verdicts_.push_back(not_relevant(site_.about(inverter_)));
    return std::move(verdicts_);
  }

 private:
  const std::string& generator() const { return site_.name(generator_); }
  const std::string& inverter() const { return site_.name(inverter_); }

  void tell(Fitness fit, const StateView* state) {
    if (fit == Fitness::fit) {
      verdicts_.push_back(holds(site_.about(inverter_, state)));
    } else if (fit == Fitness::unknown) {
      verdicts_.push_back(
          open(site_.about(inverter_, state),
               fmt::format("whether '{}' can push power into '{}'", inverter(), generator()),
               missing()));
    } else {
      verdicts_.push_back(
          broken(site_.about(first_device(), state),
                 fmt::format("'{}' can push power into '{}', which must not take it", inverter(),
                             generator()),
                 "part it by an interlock, or fit zero feed and a reverse power relay"));
      note();
    }
  }

  void note() {
    verdicts_.back().notes.push_back(
        {site_.element(generator_).where,
         fmt::format("'{}' is not declared fit to take power back", generator())});
  }

  std::string missing() const {
    const auto* inverter_facts = site::facts<site::Inverter>(site_.element(inverter_));
    const auto* generator_facts = site::facts<site::Generator>(site_.element(generator_));
    std::string text;
    if (!inverter_facts->zero_feed_to_generator)
      text = fmt::format("'zero feed to generator' of '{}'", inverter());
    if (!generator_facts->reverse_power_relay)
      text += fmt::format("{}'reverse power relay' of '{}'", text.empty() ? "" : ", ", generator());
    return text;
  }

  /// How switches may stand where somebody forgets one: its own contacts close by themselves.
  std::vector<Treat> treatment() const {
    std::vector<Treat> treat = network::usual_treatment(site_.network, site_.site);
    for (const int own : network::contacts_in_step(site_.network, f_, f_))
      treat[static_cast<std::size_t>(own)] = Treat::as_closed;
    return treat;
  }

  void judge_other_positions(Fitness fit) {
    const auto found = network::ways_to_join(site_.network, network::line_nodes(site_.network, g_),
                                             network::line_nodes(site_.network, f_), treatment());
    if (!found.complete) {
      verdicts_.push_back(open(site_.about(inverter_),
                               fmt::format("whether '{}' can meet '{}'", inverter(), generator()),
                               "interlocks that leave fewer positions between them"));
      return;
    }
    for (const auto& way : found.ways) {
      if (fit == Fitness::fit || !verdicts_.empty()) break;
      judge_way(fit, way);
    }
    if (verdicts_.empty()) verdicts_.push_back(holds(site_.about(inverter_)));
  }

  void judge_way(Fitness fit, const std::vector<SwitchAt>& way) {
    const site::Interlock* interlock = network::excluded_by(site_.network, site_.site, way);
    if (interlock != nullptr && (interlock->means == site::InterlockMeans::mechanical ||
                                 interlock->means == site::InterlockMeans::key))
      return;
    if (interlock != nullptr && interlock->means == site::InterlockMeans::unknown) {
      verdicts_.push_back(open({interlock->where, inverter(), {}},
                               fmt::format("what keeps '{}' off '{}'", inverter(), generator()),
                               "'by' of this interlock: mechanical, key, electrical or control"));
      return;
    }
    if (interlock != nullptr || parted_by_controller(way)) return tell_controlled();
    tell(fit, nullptr);
  }

  /// Whether a contact that a controller moves has to close for this way.
  bool parted_by_controller(const std::vector<SwitchAt>& way) const {
    return std::ranges::any_of(way, [&](SwitchAt at) {
      const auto element = site_.network.switches[static_cast<std::size_t>(at.by)].element;
      const auto* device = site::facts<site::Device>(site_.element(element));
      return device != nullptr && device->kind == site::DeviceKind::contactor &&
             device->operation != site::Operation::hand;
    });
  }

  void tell_controlled() {
    verdicts_.push_back(
        broken(site_.about(first_device()),
               fmt::format("only its control keeps '{}' off '{}'", inverter(), generator()),
               "add a mechanical or key interlock, or zero feed and a reverse power relay"));
    verdicts_.back().severity = Severity::advice;
  }

  /// The device nearest to the inverter on its way to everything else, or the inverter itself.
  std::size_t first_device() const {
    std::vector<std::uint32_t> reached = network::line_nodes(site_.network, f_);
    for (std::size_t i = 0; i < reached.size(); ++i)
      for (const network::Edge& edge : site_.network.edges) {
        if (edge.a != reached[i] && edge.b != reached[i]) continue;
        if (is_device(edge.element)) return edge.element;
        const auto other = edge.a == reached[i] ? edge.b : edge.a;
        if (std::ranges::count(reached, other) == 0) reached.push_back(other);
      }
    return inverter_;
  }

  bool is_device(std::size_t element) const {
    return element != site::none && site::facts<site::Device>(site_.element(element)) != nullptr;
  }

  const AnalysedSite& site_;
  std::size_t g_;
  std::size_t f_;
  std::size_t generator_;
  std::size_t inverter_;
  std::vector<Verdict> verdicts_;
};

std::vector<Verdict> check_site(const AnalysedSite& site) {
  const auto& sources = site.network.sources;
  std::vector<Verdict> verdicts;
  for (std::size_t g = 0; g < sources.size(); ++g) {
    if (site::facts<site::Generator>(site.element(sources[g].element)) == nullptr) continue;
    for (std::size_t f = 0; f < sources.size(); ++f) {
      const bool inverter =
          site::facts<site::Inverter>(site.element(sources[f].element)) != nullptr;
      // A source that forms its own voltage follows only through a contact that it closes in step.
      if (!inverter || (sources[f].forming && sources[f].synchronised_at.empty())) continue;
      auto more = Judge(site, g, f).run();
      std::ranges::move(more, std::back_inserter(verdicts));
    }
  }
  if (verdicts.empty()) verdicts.push_back(not_relevant({}));
  return verdicts;
}

}  // namespace

extern const check::Rule parallel_source_off_the_generator{
    .id = "transfer/parallel-source-off-the-generator",
    .severity = Severity::danger,
    .must_hold =
        "PV and battery inverters that can run on a generator are kept off it, or it is "
        "declared fit to take power back, or zero feed and a reverse power relay guard it.",
    .why =
        "A small set cannot take power back: it runs away, its voltage rises, and the loads go "
        "with it.",
    .clauses = {"IEC 60364-5-55 551.7", "ISO 8528"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# PV on the board that the generator feeds as well.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
earthing: {electrodes: {-XE1: 20 ohm}}
generators:
  -G2: {power: 7 kVA, neutral: linked, fixed: yes, takes power back: no, reverse power relay: no}
inverters:
  -T1: {kind: pv, grid: following, power: 7.6 kVA, zero feed to generator: no}
devices:
  -Q1: {device: changeover I-0-II 63 A 2P by hand, break before make: yes}
boards:
  +A1:
    feed: [-Q1, -W4 3×10 mm² 5 m]
chains:
  - [supply, -Q1:I]
  - [-G2, -Q1:II]
  - [-T1:ac, -W5 3×6 mm² 5 m, -F3 C40 2P, A1]
states:
  grid: {-Q1: I}
  generator: {-Q1: II}
)",
    .check = check_site,
};

}  // namespace linewright::rules
