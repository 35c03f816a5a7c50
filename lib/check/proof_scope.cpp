#include "check/proof_scope.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "check/rcd_cover.hpp"
#include "check/unearthed.hpp"
#include "network/joining.hpp"

namespace linewright::check {
namespace {

using network::RcdNeed;

bool good_enough(const AnalysedSite& site, const site::Residual& device, Wanted wanted) {
  if (wanted != Wanted::additional) return true;
  const auto limit = site.profile.current("rcd limit");
  return device.delay != site::ResidualDelay::selective && device.operating_current && limit &&
         *device.operating_current <= *limit;
}

network::Accepted accepted(const AnalysedSite& site, Wanted wanted) {
  std::vector<std::size_t> rcds;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e)
    if (const site::Residual* device = residual(site, e);
        device != nullptr && good_enough(site, *device, wanted))
      rcds.push_back(e);
  return std::make_shared<const std::vector<std::size_t>>(std::move(rcds));
}

/// Whether the circuit's neutral passes by an RCD that its line passes.
bool borrows(const network::Loop& loop) {
  return std::ranges::any_of(loop.rcds, [&](const network::RcdOnLoop& rcd) {
    return !loop.neutral_guards.empty() &&
           std::ranges::count(loop.neutral_guards, rcd.element) == 0;
  });
}

void add_rcd_needs(const AnalysedSite& site, network::HazardScope& scope) {
  const network::Accepted any = accepted(site, Wanted::any_rcd);
  const network::Accepted fast = accepted(site, Wanted::additional);
  std::map<std::size_t, RcdNeed> needs;
  std::set<std::size_t> told;
  for (const CircuitCover& cover : circuit_covers(site)) {
    if (cover.wanted == Wanted::nothing) continue;
    if (cover.standing != Standing::guarded || borrows(*cover.loop)) told.insert(cover.loop->load);
    const auto& wanted = cover.wanted == Wanted::additional ? fast : any;
    auto& need = needs[cover.loop->load];
    need.load = cover.loop->load;
    if (!need.accepted || need.accepted->empty() || wanted->size() < need.accepted->size())
      need.accepted = wanted;
  }
  for (auto& [load, need] : needs) {
    if (!told.contains(load))
      scope.loads_with_rcd.push_back(std::move(need));
    else
      scope.loads_left_out.push_back(load);
  }
}

// A circuit that only positions without a name feed: its loop is in no state, so nobody knows which
// RCD it needs.
void add_loads_never_fed(const AnalysedSite& site, network::HazardScope& scope) {
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* load = site::facts<site::LoadGroup>(site.element(e));
    if (load == nullptr) continue;
    const bool fed = std::ranges::any_of(
        site.states, [&](const network::StateView& state) { return state.feeds(e); });
    if (!fed) scope.loads_never_fed.push_back(e);
  }
}

bool fed_without_supply(const AnalysedSite& site, std::size_t load) {
  return std::ranges::any_of(site.states, [&](const network::StateView& state) {
    return !state.supply_runs && state.feeds(load);
  });
}

void add_loads_not_in_outage(const AnalysedSite& site, network::HazardScope& scope) {
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* load = site::facts<site::LoadGroup>(site.element(e));
    if (load == nullptr || !load->service || *load->service == site::Service::backup) continue;
    if (!fed_without_supply(site, e)) scope.loads_not_in_outage.push_back(e);
  }
}

void add_unearthed(const AnalysedSite& site, network::HazardScope& scope) {
  for (std::size_t e = 0; e < site.site.elements.size(); ++e)
    if (const auto* supply = site::facts<site::Supply>(site.element(e)))
      if (supply->earthing == site::Earthing::it) scope.without_bond.push_back(e);
  for (const network::StateView& state : site.states)
    for (const network::Zone& zone : state.zones) {
      if (!runs_as_it(site, zone) && !meant_for_items(site, state, zone)) continue;
      for (const std::size_t source : zone.sources)
        if (std::ranges::count(scope.without_bond, source) == 0)
          scope.without_bond.push_back(source);
    }
}

/// Line nodes of all circuits that are no separated item.
std::vector<std::uint32_t> lines_of_other_loads(const AnalysedSite& site) {
  std::vector<std::uint32_t> nodes;
  for (std::size_t e = 0; e < site.site.elements.size(); ++e) {
    const auto* load = site::facts<site::LoadGroup>(site.element(e));
    if (load == nullptr || load->use == site::Use::separated) continue;
    const auto lines = network::line_nodes(site.network, e, 0);
    nodes.insert(nodes.end(), lines.begin(), lines.end());
  }
  return nodes;
}

// Exempt for an item in one state, a source may feed ordinary circuits in other positions.
void add_unearthed_for_items(const AnalysedSite& site, network::HazardScope& scope) {
  const std::vector<std::uint32_t> others = lines_of_other_loads(site);
  for (const network::StateView& state : site.states)
    for (const network::Zone& zone : state.zones) {
      if (runs_as_it(site, zone) || !meant_for_items(site, state, zone)) continue;
      for (const std::size_t source : zone.sources) {
        const auto found = network::ways_to_join(
            site.network,
            network::line_nodes(site.network, network::source_of(site.network, source)), others,
            network::usual_treatment(site.network, site.site));
        if ((!found.ways.empty() || !found.complete) &&
            std::ranges::count(scope.without_bond_for_items, source) == 0)
          scope.without_bond_for_items.push_back(source);
      }
    }
}

}  // namespace

network::HazardScope proof_scope(const AnalysedSite& site) {
  network::HazardScope scope;
  add_rcd_needs(site, scope);
  add_loads_never_fed(site, scope);
  add_loads_not_in_outage(site, scope);
  add_unearthed(site, scope);
  add_unearthed_for_items(site, scope);
  return scope;
}

}  // namespace linewright::check
