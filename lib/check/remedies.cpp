#include "check/remedies.hpp"

#include <algorithm>

#include "check/second_bonds.hpp"
#include "network/network.hpp"
#include "network/neutral_paths.hpp"

namespace linewright::check {
namespace {

int lines_through(const AnalysedSite& site, std::size_t device) {
  return (site.element(device).conductors & site::lines).count();
}

/// Whether the joint is closed in some state that the supply does not feed: there it may be the one
/// that is needed, or a neutral is led on that should not be.
bool serves_off_the_grid(const AnalysedSite& site, std::size_t element) {
  return std::ranges::any_of(site.states, [&](const network::StateView& state) {
    return std::ranges::any_of(state.zones, [&](const network::Zone& zone) {
      return !(zone.supply_neutral && state.supply_runs) &&
             std::ranges::count(zone.bonds, element, &network::BondPoint::element) > 0;
    });
  });
}

}  // namespace

Edit poles_with_neutral(const AnalysedSite& site, std::size_t device) {
  return DeviceWords{site.name(device), lines_through(site, device) == 1 ? "2P" : "4P"};
}

Edit poles_without_neutral(const AnalysedSite& site, std::size_t device) {
  return DeviceWords{site.name(device), lines_through(site, device) == 1 ? "1P" : "3P"};
}

bool on_the_supply(const AnalysedSite& site, std::size_t source) {
  const std::size_t supply = supply_of(site);
  if (supply == site::none) return false;
  const std::uint32_t own = network::source_neutral(site.network, source);
  const std::uint32_t theirs = network::source_neutral(site.network, supply);
  return std::ranges::any_of(site.states, [&](const network::StateView& state) {
    return state.supply_runs && state.joined(own, theirs);
  });
}

std::vector<Edit> own_joint(const AnalysedSite& site, std::size_t source) {
  const std::string& name = site.name(source);
  const auto* generator = site::facts<site::Generator>(site.element(source));
  if (generator != nullptr && generator->neutral == site::NeutralLink::none)
    return {KeyValue{name, "neutral", "linked"}};
  const auto* inverter = site::facts<site::Inverter>(site.element(source));
  const bool none = inverter != nullptr && (inverter->bond == site::BondContact::absent ||
                                            inverter->bond == site::BondContact::stays_open);
  if (!none) return {};
  return {KeyValue{name, "bond", "closes in island"}, KeyValue{name, "bond rest", "open"}};
}

std::vector<Edit> without_joint(const AnalysedSite& site, std::size_t element) {
  const std::string& name = site.name(element);
  if (site::facts<site::Inverter>(site.element(element)) != nullptr)
    return {KeyValue{name, "bond", "stays open"}};
  if (site::facts<site::Generator>(site.element(element)) != nullptr)
    return {KeyValue{name, "neutral", "floating"}};
  // A joint with a contact serves some state; which of two to give up is not for us to say.
  const auto* link = site::facts<site::Bond>(site.element(element));
  return link != nullptr && !link->contact ? std::vector<Edit>{TakenOut{name, {}}}
                                           : std::vector<Edit>{};
}

std::vector<Edit> joint_off_the_grid(const AnalysedSite& site, std::size_t element) {
  const std::string& name = site.name(element);
  const auto* inverter = site::facts<site::Inverter>(site.element(element));
  const bool parts_itself = site.network.find_switch(element, "transfer") >= 0;
  if (inverter != nullptr && parts_itself && inverter->bond == site::BondContact::always_closed)
    return {KeyValue{name, "bond", "closes in island"}, KeyValue{name, "bond rest", "open"}};
  const auto* link = site::facts<site::Bond>(site.element(element));
  const bool of_no_use = link != nullptr && !link->contact && !serves_off_the_grid(site, element);
  return of_no_use ? std::vector<Edit>{TakenOut{name, {}}} : std::vector<Edit>{};
}

}  // namespace linewright::check
