#include "figures/load_demand.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "units/print.hpp"

namespace linewright::figures {
namespace {

bool held_off(const site::LoadGroup& load) {
  if (load.shed_in_island) return true;
  return load.charging && load.charging->in_island == site::IslandCharging::off;
}

/// What is left of its power in island, where a charge point is held back to a part of it.
ActivePower in_island(const site::LoadGroup& load, ActivePower power) {
  if (!load.charging || load.charging->in_island != site::IslandCharging::held_back) return power;
  return load.charging->island_limit ? std::min(power, *load.charging->island_limit) : power;
}

}  // namespace

std::string called(const site::Element& element) {
  return element.name.empty() ? element.designation
                              : fmt::format("{} {}", element.designation, element.name);
}

LoadDemand load_demand(const site::Element& load, site::StateKind kind) {
  const auto& facts = *site::facts<site::LoadGroup>(load);
  LoadDemand demand;
  const bool island = kind == site::StateKind::island;
  if (island && held_off(facts)) {
    demand.working = "shed in island";
    return demand;
  }
  if (!facts.power) demand.missing.push_back({"load", called(load)});
  const bool turns = facts.use == site::Use::motor || facts.use == site::Use::heat_pump;
  if (turns && !facts.power_factor) demand.missing.push_back({"power factor", called(load)});
  if (!demand.missing.empty() || !facts.power) return demand;
  const double diversity = facts.diversity.value_or(1.0);
  demand.cos_phi = facts.power_factor.value_or(1.0);
  const ActivePower power = island ? in_island(facts, *facts.power) : *facts.power;
  demand.power = diversity * power;
  demand.working = fmt::format("{}{} at power factor {:g}{}", power,
                               facts.diversity ? fmt::format(" × {:g}", diversity) : "",
                               demand.cos_phi, facts.power_factor ? "" : " (none is given)");
  return demand;
}

}  // namespace linewright::figures
