#include "documents/state_table.hpp"

#include <algorithm>
#include <set>

#include <fmt/core.h>

#include "documents/state_words.hpp"
#include "network/beyond.hpp"
#include "network/joining.hpp"

namespace linewright::documents {
namespace {

using network::StateView;

std::string shown_position(const network::Switch& device, int position) {
  if (position == network::unknown) return "?";
  const std::string& name = device.positions[static_cast<std::size_t>(position)];
  if (name == "closed") return "1";
  if (name == "open") return "0";
  return name;
}

/// The boards with an alive load; loads outside every board stand for themselves. A "?" follows
/// those that may be alive behind what is not followed.
std::string alive_words(const site::Site& site, const network::Network& network,
                        const StateView& view, const std::vector<bool>& perhaps_alive) {
  std::set<std::string> all;
  std::set<std::string> alive;
  std::set<std::string> perhaps;
  for (std::size_t e = 0; e < site.elements.size(); ++e) {
    const site::Element& element = site.elements[e];
    if (site::facts<site::LoadGroup>(element) == nullptr) continue;
    const std::string& place = element.assembly == site::none
                                   ? element.designation
                                   : site.assemblies[element.assembly].designation;
    all.insert(place);
    if (view.feeds(e))
      alive.insert(place);
    else if (network::any_marked(view, perhaps_alive, network::line_nodes(network, e, 0)))
      perhaps.insert(place);
  }
  if (alive == all && !all.empty() && perhaps.empty()) return "all";
  std::string words;
  const auto add = [&words](const std::string& place, std::string_view mark) {
    words += fmt::format("{}{}{}", words.empty() ? "" : " ", place, mark);
  };
  for (const std::string& place : alive)
    add(place, "");
  for (const std::string& place : perhaps)
    if (!alive.contains(place)) add(place, "?");
  return words.empty() ? "none" : words;
}

std::string bond_name(const site::Site& site, const network::BondPoint& bond) {
  if (!bond.suppliers) return site.elements[bond.element].designation;
  for (const site::Element& element : site.elements)
    if (const auto* supply = site::facts<site::Supply>(element))
      return "supply (" + std::string(earthing_mark(*supply)) + ")";
  return "supply";
}

std::string bond_words(const site::Site& site, const StateView& view) {
  std::string words;
  const auto add = [&words](const std::string& name) {
    if (words.find(name) == std::string::npos) words += (words.empty() ? "" : " + ") + name;
  };
  if (view.zones.empty()) return "–";
  for (const network::Zone& zone : view.zones) {
    for (const auto& bond : zone.bonds)
      add(bond_name(site, bond));
    for (const auto& bond : zone.undecided_bonds)
      add(bond_name(site, bond) + "?");
  }
  return words.empty() ? "none" : words;
}

}  // namespace

StateTable state_table(const site::Site& site, const network::Network& network,
                       const std::vector<StateView>& states) {
  StateTable table;
  if (states.empty()) return table;
  const auto moving = moving_switches(network, states, GridContacts::left_out);
  for (const std::size_t s : moving)
    table.devices.push_back(switch_name(site, network.switches[s]));
  const network::Beyond beyond(network, site);
  for (const StateView& view : states) {
    StateRow row{.state = view.name(), .positions = {}, .alive = {}, .bond = {}};
    for (const std::size_t s : moving)
      row.positions.push_back(shown_position(network.switches[s], view.positions.of[s]));
    row.alive = alive_words(site, network, view, beyond.perhaps_alive(view));
    row.bond = bond_words(site, view);
    table.rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace linewright::documents
