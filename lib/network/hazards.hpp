// What must never happen, asked of one situation: the plain way, without any solver.
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "network/movement.hpp"
#include "network/network.hpp"

namespace linewright::network {

/// What hurts people or equipment in one situation.
enum class HazardKind {
  sources_joined,         ///< two running sources that nothing holds in step are one conductor
  dead_supply_fed,        ///< a running source reaches the lines of the supply, which is dead
  neutral_without_bond,   ///< a live circuit's source has no joint of neutral and earth
  neutral_bonded_twice,   ///< the neutral of a running source meets earth twice
  load_without_rcd,       ///< a live load's fault current passes no RCD that would see it
  unsupported_load_alive  ///< a load that is to be dead in an outage is fed while the supply is
                          ///< dead
};

/// Elements in ascending order; many needs share one list.
using Accepted = std::shared_ptr<const std::vector<std::size_t>>;

/// A load that must have a residual-current device, and those that are good enough for it.
struct RcdNeed {
  std::size_t load = site::none;
  Accepted accepted;

  bool accepts(std::size_t rcd) const {
    return accepted && std::ranges::binary_search(*accepted, rcd);
  }
};

/// What is asked beyond the wiring itself.
struct HazardScope {
  std::vector<RcdNeed> loads_with_rcd;           ///< one of the accepted must see a fault
  std::vector<std::size_t> loads_not_in_outage;  ///< elements to be dead while the supply is
  std::vector<std::size_t> loads_left_out;       ///< need an RCD, but fail in named states already
  std::vector<std::size_t> loads_never_fed;      ///< no named state feeds them: nothing is asked
  std::vector<std::size_t> without_bond;  ///< sources (elements) that run unearthed by design
  std::vector<std::size_t>
      without_bond_for_items;  ///< of these: for single items, but can feed more
};

/// One hazard of a situation.
struct Hazard {
  HazardKind kind = HazardKind::sources_joined;
  std::vector<std::size_t> sources;  ///< elements: one, or the two that meet
  std::size_t load = site::none;
  std::vector<std::size_t> bonds;  ///< elements that join neutral and earth, bonded twice
  bool sure = true;                ///< false: it hangs on something that the file does not say
};

/// Whether two hazards are about the same things.
bool same_subject(const Hazard& a, const Hazard& b);

/// Every hazard of the situation, its law-driven contacts as they stand there; given a kind, those
/// of that kind.
std::vector<Hazard> hazards_in(const Network& network, const site::Site& site,
                               const Situation& situation, const HazardScope& scope,
                               std::optional<HazardKind> only = {});

/// Edges that a picture of the hazard emphasises: the way between the sources, from the source to
/// the load (past RCDs, where there is such a way) or to the dead supply, or between the two bonds
/// over the neutral.
std::vector<std::uint32_t> path_of(const Network& network, const site::Site& site,
                                   const Situation& situation, const Hazard& hazard);

}  // namespace linewright::network
