// Speaks of isolation for work on the alternating-current side: with everything open that is fit
// for isolation and can be locked, no source may reach a load, another source or a transfer. Plugs
// count: they are pulled. Batteries and PV are isolated on their own side; isolate/ will look at
// that.
#include <algorithm>

#include <fmt/core.h>

#include "check/naming.hpp"
#include "check/rcd_cover.hpp"
#include "check/rule.hpp"
#include "check/transfer_devices.hpp"
#include "network/joining.hpp"

namespace linewright::rules {
namespace {

using check::AnalysedSite;

enum class Fit { yes, no, unknown };

/// Whether a device isolates for work, by what the file says. Contactors do not by their kind.
Fit fit(const site::Device& device) {
  if (device.kind == site::DeviceKind::contactor && device.isolates != true) return Fit::no;
  if (device.isolates == false || device.lockable == false) return Fit::no;
  return device.isolates && device.lockable ? Fit::yes : Fit::unknown;
}

/// By element: the device of one circuit, which isolates that circuit only.
std::vector<bool> circuit_devices(const AnalysedSite& site) {
  std::vector<bool> own(site.site.elements.size(), false);
  for (const network::StateView& state : site.states)
    for (const network::Loop& loop : state.loops)
      own[check::circuit_device(loop)] = true;
  return own;
}

/// Elements that stop the search from a source.
std::vector<bool> stops(const AnalysedSite& site, bool unknown_too) {
  std::vector<bool> stop(site.site.elements.size(), false);
  const std::vector<bool> of_circuit = circuit_devices(site);
  for (std::size_t e = 0; e < stop.size(); ++e) {
    if (site::facts<site::Connector>(site.element(e)) != nullptr) stop[e] = true;
    const auto* device = site::facts<site::Device>(site.element(e));
    if (device == nullptr || of_circuit[e]) continue;
    const Fit how = fit(*device);
    stop[e] = how == Fit::yes || (unknown_too && how == Fit::unknown);
  }
  return stop;
}

/// What a source reaches over lines, whatever stands closed, without passing a stop.
class Reach {
 public:
  Reach(const AnalysedSite& site, std::size_t source, const std::vector<bool>& stop)
      : site_(site), source_(source), reached_(site.network.nodes.size(), false) {
    spread(stop);
  }

  bool has(std::size_t element) const {
    for (std::size_t t = 0; t < site_.element(element).terminals.size(); ++t)
      for (const auto node : network::line_nodes(site_.network, element, t))
        if (reached_[node]) return true;
    return false;
  }

  /// A load, another source, or a transfer that a coil moves.
  std::size_t first_target() const {
    const auto transfers = check::transfer_devices(site_);
    const std::size_t own = site_.network.sources[source_].element;
    for (std::size_t e = 0; e < site_.site.elements.size(); ++e) {
      const bool load = site::facts<site::LoadGroup>(site_.element(e)) != nullptr;
      const bool other = e != own && network::source_of(site_.network, e) != site::none;
      const bool transfer = std::ranges::any_of(
          transfers, [&](const auto& each) { return each.element == e && each.by_controller; });
      if ((load || other || transfer) && has(e)) return e;
    }
    return site::none;
  }

  /// Devices that it reaches and are so fit for isolation, in file order; those of single circuits
  /// left out.
  std::vector<std::size_t> devices(Fit wanted) const {
    const std::vector<bool> of_circuit = circuit_devices(site_);
    std::vector<std::size_t> found;
    for (std::size_t e = 0; e < site_.site.elements.size(); ++e) {
      const auto* device = site::facts<site::Device>(site_.element(e));
      if (device != nullptr && !of_circuit[e] && fit(*device) == wanted && has(e))
        found.push_back(e);
    }
    return found;
  }

 private:
  void spread(const std::vector<bool>& stop) {
    std::vector<std::vector<std::uint32_t>> beside(site_.network.nodes.size());
    for (const network::Edge& edge : site_.network.edges) {
      if (edge.kind == network::EdgeKind::bond || edge.kind == network::EdgeKind::earth) continue;
      if (!site::lines.has(edge.conductor)) continue;
      if (edge.element != site::none && (stop[edge.element] || is_inverter(edge.element))) continue;
      beside[edge.a].push_back(edge.b);
      beside[edge.b].push_back(edge.a);
    }
    std::vector<std::uint32_t> next = network::line_nodes(site_.network, source_);
    for (const auto node : next)
      reached_[node] = true;
    for (std::size_t i = 0; i < next.size(); ++i)
      for (const auto other : beside[next[i]]) {
        if (reached_[other]) continue;
        reached_[other] = true;
        next.push_back(other);
      }
  }

  /// Inverters are taken as joined inside by their grid contact, which is isolated at its ends.
  bool is_inverter(std::size_t element) const {
    return site::facts<site::Inverter>(site_.element(element)) != nullptr;
  }

  const AnalysedSite& site_;
  std::size_t source_;
  std::vector<bool> reached_;
};

Verdict judge(const AnalysedSite& site, std::size_t source) {
  const std::size_t element = site.network.sources[source].element;
  const Subject subject = site.about(element);
  const Reach sure(site, source, stops(site, false));
  const std::size_t target = sure.first_target();
  if (target == site::none) return holds(subject);
  const std::string what = check::quoted(site, element);
  const Reach perhaps(site, source, stops(site, true));
  const std::size_t left = perhaps.first_target();
  const std::vector<std::size_t> unfit = perhaps.devices(Fit::no);
  if (left != site::none && !unfit.empty())
    return broken(subject,
                  fmt::format("only {} parts {} from what it feeds, which isolates nothing",
                              check::quoted(site, unfit.front()), what),
                  "fit a device suited to isolation that can be locked off, in series");
  const std::vector<std::size_t> asked = sure.devices(Fit::unknown);
  return open(subject,
              fmt::format("whether {} can be isolated from '{}' for work", what, site.name(target)),
              asked.empty() || left != site::none
                  ? fmt::format("a device 'isolating lockable' behind {}", what)
                  : fmt::format("'isolating' and 'lockable' of {}", check::quoted(site, asked)));
}

std::vector<Verdict> check_site(const AnalysedSite& site) {
  std::vector<Verdict> verdicts;
  for (std::size_t s = 0; s < site.network.sources.size(); ++s)
    verdicts.push_back(judge(site, s));
  return verdicts;
}

}  // namespace

extern const check::Rule isolating_device_not_only_contactor{
    .id = "transfer/isolating-device-not-only-contactor",
    .severity = Severity::breach,
    .must_hold =
        "Each source and each transfer has a device in series that is suited to isolation and can "
        "be locked off; a contactor alone does not count.",
    .why = "A contactor can weld, or its controller closes it again while someone works.",
    .clauses = {"IEC 60364-5-53 537.2", "IEC 60364-4-46 462", "DIN VDE 0100-530 Annex B"},
    .confirmation = check::Confirmation::confirmed,
    .profile_keys = {},
    .example = R"(# Only a contactor stands between the supply and the circuits.
supply: {system: 1/N/PE 230 V 50 Hz, earthing: TN-S}
boards:
  +A1:
    feed: [supply, -W1 3×16 mm² 3 m, -Q1 contactor 63 A 2P]
    circuits:
      - {name: Heater, device: fuse 16 A gG 1P, cable: 3×2.5 mm² 9 m, use: fixed}
states:
  grid: {-Q1: closed}
)",
    .check = check_site,
};

}  // namespace linewright::rules
