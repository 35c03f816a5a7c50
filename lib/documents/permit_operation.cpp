// The lines on earthing and on how the site is run.
#include <algorithm>

#include <fmt/core.h>

#include "documents/permit_parts.hpp"
#include "documents/state_words.hpp"
#include "documents/states_account.hpp"
#include "units/print.hpp"

namespace linewright::documents {
namespace {

using network::StateView;
using site::none;
using site::Site;

std::string bonding_words(const site::MainEarthingTerminal& terminal) {
  std::vector<std::string> words;
  for (const site::BondingConductor& each : terminal.bonding)
    words.push_back(each.cross_section ? each.to + " " + print(*each.cross_section) : each.to);
  return listed(words);
}

std::string electrode_words(const site::Electrode& electrode) {
  return listed({electrode.type,
                 electrode.resistance ? print(*electrode.resistance) + " by design" : "",
                 electrode.measured ? print(*electrode.measured) + " measured" : ""});
}

// "TT", "TN-S by -X5": how what runs in a state is earthed.
std::string earthing_of(const PermitFacts& facts, const StateView& view) {
  std::vector<std::string> kinds;
  for (const network::Zone& zone : view.zones) {
    std::vector<std::string> bonds;
    for (const network::BondPoint& bond : zone.bonds)
      if (!bond.suppliers) bonds.push_back(facts.site.elements[bond.element].designation);
    const std::string kind = earthing_kind(facts.site, facts.network, view, zone);
    kinds.push_back(bonds.empty() ? kind : kind + " by " + joined(bonds));
  }
  return joined(kinds);
}

void add_earthing_of_states(const PermitFacts& facts, PermitLines& to) {
  std::vector<Said> all;
  for (const StateView& view : facts.states)
    if (std::string words = earthing_of(facts, view); !words.empty())
      all.push_back({view.name(), std::move(words)});
  for (const Said& said : alike(all))
    to.add({19}, fmt::format("{}: {}", said.designation, said.words));
}

// What a position of a state reads in words: "-Q2 II".
std::string moved_words(const PermitFacts& facts, const StateView& view, const StateView& from) {
  std::vector<std::string> words;
  for (std::size_t s = 0; s < facts.network.switches.size(); ++s) {
    const network::Switch& one = facts.network.switches[s];
    const int at = view.positions.of[s];
    if (!one.part.empty() || at == network::unknown || at == from.positions.of[s]) continue;
    words.push_back(switch_name(facts.site, one) + " " +
                    one.positions[static_cast<std::size_t>(at)]);
  }
  return listed(words);
}

void add_bypass(const PermitFacts& facts, PermitLines& to) {
  const StateView* grid = view_of(facts, site::StateKind::grid);
  for (const StateView& view : facts.states) {
    if (view.state->kind != site::StateKind::bypass) continue;
    const std::string moved = grid == nullptr ? "" : moved_words(facts, view, *grid);
    to.add({44}, fmt::format("Maintenance bypass, state '{}': ", view.name()), moved);
  }
}

std::string service_word(site::Service service) {
  switch (service) {
    case site::Service::backup:
      return "Backed up: ";
    case site::Service::normal:
      return "Not backed up: ";
    case site::Service::direct:
      return "Never through the panel: ";
  }
  return {};
}

site::Service service_of(const Site& site, const site::Element& element) {
  const auto& load = *site::facts<site::LoadGroup>(element);
  if (load.service) return *load.service;
  if (element.assembly == none) return site::Service::normal;
  return site.assemblies[element.assembly].service.value_or(site::Service::normal);
}

bool says_service(const Site& site, const site::Element& element) {
  return site::facts<site::LoadGroup>(element)->service.has_value() ||
         (element.assembly != none && site.assemblies[element.assembly].service.has_value());
}

// Boards by what their circuits are promised; circuits outside boards by themselves.
void add_services(const Site& site, PermitLines& to) {
  for (const site::Service service :
       {site::Service::backup, site::Service::normal, site::Service::direct}) {
    std::vector<std::string> places;
    for (const std::size_t e : elements_with<site::LoadGroup>(site)) {
      const site::Element& element = site.elements[e];
      if (!says_service(site, element) || service_of(site, element) != service) continue;
      const std::string& place = element.assembly == none
                                     ? element.designation
                                     : site.assemblies[element.assembly].designation;
      if (std::ranges::find(places, place) == places.end()) places.push_back(place);
    }
    to.add({45}, service_word(service), listed(places));
  }
}

std::string forming_sources(const Site& site) {
  std::vector<std::string> words;
  for (const std::size_t e : elements_with<site::Inverter>(site)) {
    const auto& inverter = *site::facts<site::Inverter>(site.elements[e]);
    if (inverter.forming == site::Forming::grid_forming && inverter.power)
      words.push_back(site.elements[e].designation + " " + print(*inverter.power));
  }
  for (const std::size_t e : elements_with<site::Generator>(site)) {
    const auto& generator = *site::facts<site::Generator>(site.elements[e]);
    if (generator.power)
      words.push_back(site.elements[e].designation + " " + print(*generator.power));
  }
  return listed(words);
}

void add_backup_load(const Site& site, PermitLines& to) {
  const std::vector<std::size_t> circuits = backed_up(site);
  if (circuits.empty()) return;
  ActivePower sum;
  std::size_t known = 0;
  std::vector<std::string> shed;
  for (const std::size_t e : circuits) {
    const auto& load = *site::facts<site::LoadGroup>(site.elements[e]);
    if (load.shed_in_island)
      shed.push_back(site.elements[e].name.empty() ? site.elements[e].designation
                                                   : site.elements[e].name);
    if (!load.power) continue;
    sum += *load.power;
    ++known;
  }
  if (known == circuits.size())
    to.add({46}, fmt::format("Backed-up circuits: {}, {} connected; sources: {}", circuits.size(),
                             print_rounded(sum, 3), forming_sources(site)));
  to.add({47}, shed.empty() ? "No circuit is shed in island." : "Shed in island: " + listed(shed));
}

std::string indicators(const Site& site) {
  std::vector<std::string> boards;
  for (const site::Assembly& assembly : site.assemblies)
    if (assembly.indicator == true) boards.push_back(assembly.designation);
  return listed(boards);
}

}  // namespace

const StateView* view_of(const PermitFacts& facts, site::StateKind kind) {
  for (const StateView& view : facts.states)
    if (view.state->kind == kind) return &view;
  return nullptr;
}

std::vector<std::size_t> backed_up(const Site& site) {
  std::vector<std::size_t> circuits;
  for (const std::size_t e : elements_with<site::LoadGroup>(site))
    if (says_service(site, site.elements[e]) &&
        service_of(site, site.elements[e]) == site::Service::backup)
      circuits.push_back(e);
  return circuits;
}

std::vector<std::size_t> moving_with_neutral(const PermitFacts& facts) {
  std::vector<std::size_t> found;
  for (const std::size_t s : moving_switches(facts.network, facts.states, GridContacts::left_out)) {
    const std::size_t element = facts.network.switches[s].element;
    const auto* device = site::facts<site::Device>(facts.site.elements[element]);
    if (device != nullptr && device->poles && device->poles->neutral) found.push_back(element);
  }
  return found;
}

std::vector<IslandSwitch> island_switches(const PermitFacts& facts) {
  const StateView* grid = view_of(facts, site::StateKind::grid);
  const StateView* island = view_of(facts, site::StateKind::island);
  std::vector<IslandSwitch> found;
  if (grid == nullptr || island == nullptr) return found;
  for (std::size_t s = 0; s < facts.network.switches.size(); ++s) {
    const network::Switch& one = facts.network.switches[s];
    const int before = grid->positions.of[s];
    const int after = island->positions.of[s];
    if (one.part == "bond" || before == after || before == network::unknown ||
        after == network::unknown)
      continue;
    const std::string& now = one.positions[static_cast<std::size_t>(after)];
    if (now == "open" || now == "0") found.push_back({one.element, one.part});
  }
  return found;
}

std::vector<PermitLine> earthing_lines(const PermitFacts& facts) {
  PermitLines to(PermitSubject::earthing);
  add_earthing_of_states(facts, to);
  for (const std::size_t e : elements_with<site::Electrode>(facts.site))
    to.add({21}, facts.site.elements[e].designation + ": ",
           electrode_words(*site::facts<site::Electrode>(facts.site.elements[e])));
  for (const std::size_t e : elements_with<site::MainEarthingTerminal>(facts.site)) {
    const auto& terminal = *site::facts<site::MainEarthingTerminal>(facts.site.elements[e]);
    if (terminal.earthing_conductor)
      to.add({22}, "Earthing conductor: ", print(*terminal.earthing_conductor));
    to.add({22}, "Bonding conductors: ", bonding_words(terminal));
  }
  return to.lines;
}

std::vector<PermitLine> operation_lines(const PermitFacts& facts) {
  const site::Permit& permit = facts.site.permit;
  PermitLines to(PermitSubject::operation);
  add_bypass(facts, to);
  add_services(facts.site, to);
  add_backup_load(facts.site, to);
  for (const std::string& sentence : permit.operation)
    to.add({48}, sentence);
  for (const std::string& sentence : permit.clearances)
    to.add({71}, sentence);
  to.add({74}, "Lamp shows that it is alive: ", indicators(facts.site));
  return to.lines;
}

}  // namespace linewright::documents
