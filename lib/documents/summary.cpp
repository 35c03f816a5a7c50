#include "documents/summary.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "documents/state_table.hpp"
#include "documents/text_table.hpp"
#include "units/print.hpp"

namespace linewright::documents {
namespace {

using Rows = std::vector<std::vector<std::string>>;

template <class Q>
std::string shown(const std::optional<Q>& quantity) {
  return quantity ? print(*quantity) : std::string("?");
}

std::string service_words(const std::optional<site::Service>& service) {
  if (!service) return "?";
  switch (*service) {
    case site::Service::backup:
      return "backup";
    case site::Service::normal:
      return "normal";
    case site::Service::direct:
      return "direct";
  }
  return "?";
}

std::string source_words(const site::Element& element) {
  if (site::facts<site::Supply>(element) != nullptr) return "public supply";
  if (const auto* generator = site::facts<site::Generator>(element))
    return "generator, " + shown(generator->power);
  if (const auto* inverter = site::facts<site::Inverter>(element))
    return fmt::format("{} inverter, {}",
                       inverter->hybrid            ? "hybrid"
                       : inverter->has_backup_side ? "backup"
                                                   : "single-port",
                       shown(inverter->power));
  if (const auto* battery = site::facts<site::Battery>(element))
    return "battery, " + shown(battery->energy);
  if (const auto* pv = site::facts<site::PvArray>(element)) return "PV, " + shown(pv->power);
  return {};
}

std::string sources(const site::Site& site) {
  Rows rows;
  for (const site::Element& element : site.elements)
    if (const std::string words = source_words(element); !words.empty())
      rows.push_back({element.designation, words, element.name});
  return text_table(rows, 2);
}

std::string circuits(const site::Site& site, std::size_t assembly) {
  const std::optional<site::Service> of_board =
      assembly == site::none ? std::nullopt : site.assemblies[assembly].service;
  Rows rows;
  for (const site::Element& element : site.elements) {
    const auto* load = site::facts<site::LoadGroup>(element);
    if (load == nullptr || element.assembly != assembly) continue;
    rows.push_back({element.designation, element.name, site::words(element.conductors),
                    shown(load->power), service_words(load->service ? load->service : of_board)});
  }
  return text_table(rows, 4);
}

std::string boards(const site::Site& site) {
  std::string text;
  for (std::size_t a = 0; a < site.assemblies.size(); ++a) {
    const site::Assembly& assembly = site.assemblies[a];
    text += fmt::format("  {}  {}\n", assembly.designation, assembly.name) + circuits(site, a);
  }
  const std::string outside = circuits(site, site::none);
  if (!outside.empty()) text += "  outside every board\n" + outside;
  return text;
}

std::string states_text(const site::Site& site, const network::Network& network,
                        const std::vector<network::StateView>& states) {
  const StateTable table = state_table(site, network, states);
  std::vector<std::string> heading{"state"};
  heading.insert(heading.end(), table.devices.begin(), table.devices.end());
  heading.insert(heading.end(), {"alive", "earth bond"});
  Rows rows{heading};
  for (const StateRow& row : table.rows) {
    std::vector<std::string> cells{row.state};
    cells.insert(cells.end(), row.positions.begin(), row.positions.end());
    cells.insert(cells.end(), {row.alive, row.bond});
    rows.push_back(std::move(cells));
  }
  return text_table(rows, 2);
}

}  // namespace

std::string summary(const site::Site& site, const network::Network& network,
                    const std::vector<network::StateView>& states) {
  const auto loads = std::ranges::count_if(site.elements, [](const site::Element& element) {
    return site::facts<site::LoadGroup>(element) != nullptr;
  });
  std::string text = site.title.site_name.empty() ? "Site without a name" : site.title.site_name;
  text += fmt::format("\n{}{}{} elements, {} cables and joints, {} circuits\n", site.system.written,
                      site.system.written.empty() ? "" : ", ", site.elements.size(),
                      site.runs.size(), loads);
  text += "\nSources\n" + sources(site);
  text += "\nBoards and circuits\n" + boards(site);
  text += "\nHow the site runs\n" + states_text(site, network, states);
  return text;
}

}  // namespace linewright::documents
