#include "check/unpowered.hpp"

#include <algorithm>

namespace linewright::check {
namespace {

bool is_source(const AnalysedSite& site, std::size_t element) {
  return std::ranges::any_of(site.network.sources, [&](const network::SourcePoint& source) {
    return source.element == element;
  });
}

bool runs(const network::StateView& state, std::size_t element) {
  return std::ranges::count(state.state->running, element) > 0;
}

/// Where a switch goes once this controller is off; empty where it stays as it stands.
std::string unpowered_position(const AnalysedSite& site, const network::Switch& it,
                               const std::string& controller) {
  const site::Element& element = site.element(it.element);
  if (const auto* device = site::facts<site::Device>(element)) {
    if (device->driven_by != controller || device->latching == true) return {};
    if (device->without_power) return *device->without_power;
    return device->kind == site::DeviceKind::contactor ? device->rest : std::string{};
  }
  const auto* link = site::facts<site::Bond>(element);
  const bool drops = link != nullptr && link->driven_by == controller;
  return drops && link->rest ? *link->rest : std::string{};
}

bool is_named(const site::State& state, std::size_t element, const std::string& part) {
  return std::ranges::any_of(state.positions, [&](const site::PositionOf& it) {
    return it.element == element && it.part == part;
  });
}

/// The contact whose controller is off in that state.
const DrivenContact* powerless(const std::vector<DrivenContact>& all,
                               const network::StateView& state, std::size_t contact) {
  const auto found = std::ranges::find(all, contact, &DrivenContact::contact);
  return found != all.end() && !runs(state, found->controller) ? &*found : nullptr;
}

bool named_by_file(const AnalysedSite& site, const network::StateView& state,
                   const DrivenContact& it) {
  if (is_named(*state.state, it.contact, it.inner ? "bond" : "")) return true;
  const auto* link = site::facts<site::Bond>(site.element(it.contact));
  return link != nullptr && !link->closed_in.empty();
}

}  // namespace

std::vector<DrivenContact> driven_contacts(const AnalysedSite& site) {
  std::vector<DrivenContact> all;
  for (const network::Switch& it : site.network.switches) {
    if (it.part == "bond") {
      all.push_back({it.element, it.element, true});
      continue;
    }
    const auto* link = site::facts<site::Bond>(site.element(it.element));
    if (link == nullptr) continue;
    const std::size_t controller = site.site.find(link->driven_by);
    if (controller != site::none && is_source(site, controller))
      all.push_back({it.element, controller, false});
  }
  return all;
}

bool rest_is_given(const AnalysedSite& site, const DrivenContact& it) {
  const int by = site.network.find_switch(it.contact, it.inner ? "bond" : "");
  return by >= 0 && site.network.switches[static_cast<std::size_t>(by)].rest != network::unknown;
}

site::State without_controller(const AnalysedSite& site, const network::StateView& state,
                               std::size_t controller) {
  site::State off = *state.state;
  std::erase(off.running, controller);
  off.positions.clear();
  for (std::size_t s = 0; s < site.network.switches.size(); ++s) {
    const network::Switch& it = site.network.switches[s];
    if (!it.part.empty()) {
      const bool moves = it.element == controller && runs(state, controller);
      if (!moves && is_named(*state.state, it.element, it.part))
        off.positions.push_back({it.element,
                                 it.part,
                                 it.positions[static_cast<std::size_t>(state.positions.of[s])],
                                 {}});
      continue;
    }
    std::string position = unpowered_position(site, it, site.name(controller));
    if (position.empty() && state.positions.of[s] != network::unknown)
      position = it.positions[static_cast<std::size_t>(state.positions.of[s])];
    if (!position.empty()) off.positions.push_back({it.element, it.part, position, {}});
  }
  return off;
}

bool closed_for_want_of_power(const AnalysedSite& site, const network::StateView& state,
                              std::size_t contact) {
  const auto all = driven_contacts(site);
  const DrivenContact* it = powerless(all, state, contact);
  return it != nullptr && !named_by_file(site, state, *it) && rest_is_given(site, *it);
}

bool undecided_for_want_of_power(const AnalysedSite& site, const network::StateView& state,
                                 std::size_t contact) {
  const auto all = driven_contacts(site);
  const DrivenContact* it = powerless(all, state, contact);
  return it != nullptr && !named_by_file(site, state, *it) && !rest_is_given(site, *it);
}

}  // namespace linewright::check
