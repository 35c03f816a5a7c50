#include "diagram/site_facts.hpp"

#include <fmt/core.h>

#include "units/print.hpp"

namespace linewright::diagram {
namespace {

using site::none;

std::string said(const std::string& words) {
  return words.empty() ? std::string(not_stated) : words;
}

template <class Quantity>
std::string said(const std::optional<Quantity>& value) {
  return value ? print(*value) : std::string(not_stated);
}

std::string fault_current(const site::Supply& supply) {
  if (supply.fault_current_min && supply.fault_current_max)
    return fmt::format("{} to {}", print(*supply.fault_current_min),
                       print(*supply.fault_current_max));
  if (supply.fault_current_max) return "at most " + print(*supply.fault_current_max);
  if (supply.fault_current_min) return "at least " + print(*supply.fault_current_min);
  return not_stated;
}

std::string fuse(const site::Supply& supply) {
  if (!supply.service_fuse) return not_stated;
  return print(*supply.service_fuse) +
         (supply.service_fuse_curve.empty() ? "" : " " + supply.service_fuse_curve);
}

FactBlock block_of_supply(const site::Site& site, const site::Supply& supply) {
  FactBlock block{.heading = "Supply", .facts = {}};
  block.facts.push_back({"System", said(site.system.written)});
  block.facts.push_back({"Kind of earthing", supply.earthing ? std::string(mark(*supply.earthing))
                                                             : std::string(not_stated)});
  block.facts.push_back({"Prospective fault current", fault_current(supply)});
  block.facts.push_back({"External earth-fault loop", said(supply.external_loop)});
  block.facts.push_back({"Distributor's fuse", fuse(supply)});
  block.facts.push_back({"Meter point", said(supply.meter_point)});
  if (site.system.phases == 3)
    block.facts.push_back({"Order of the lines", !supply.rotation ? std::string(not_stated)
                                                 : *supply.rotation == site::Rotation::clockwise
                                                     ? "clockwise: L1 L2 L3"
                                                     : "anticlockwise: L1 L3 L2"});
  return block;
}

std::string place_of_met(const site::Site& site, std::size_t met) {
  for (const site::Run& run : site.runs) {
    const bool from = run.from.element == met;
    if (!from && run.to.element != met) continue;
    const site::Element& other = site.elements[from ? run.to.element : run.from.element];
    if (other.assembly != none) return "at " + site.assemblies[other.assembly].designation;
  }
  return not_stated;
}

std::string generator_bond(const site::Generator& generator) {
  if (!generator.neutral) return "neutral not stated";
  return *generator.neutral == site::NeutralLink::fixed ? "fixed, in the machine" : "";
}

std::string inverter_bond(const site::Inverter& inverter) {
  if (!inverter.bond) return inverter.has_backup_side ? "inner contact not stated" : "";
  switch (*inverter.bond) {
    case site::BondContact::absent:
      return "";
    case site::BondContact::closes_in_island:
      return "inner contact, closes in island";
    case site::BondContact::always_closed:
      return "always closed, in the inverter";
    case site::BondContact::stays_open:
      return "inner contact, stays open";
  }
  return "";
}

std::string link_bond(const site::Bond& bond) {
  if (!bond.contact) return "fixed link";
  std::string words = "contact";
  if (bond.rest) words += ", rests " + *bond.rest;
  if (!bond.driven_by.empty()) words += ", driven by " + bond.driven_by;
  return words;
}

}  // namespace

std::string bond_words(const site::Element& element) {
  if (const auto* generator = site::facts<site::Generator>(element))
    return generator_bond(*generator);
  if (const auto* inverter = site::facts<site::Inverter>(element)) return inverter_bond(*inverter);
  if (const auto* bond = site::facts<site::Bond>(element)) return link_bond(*bond);
  return site::facts<site::PenSplit>(element) != nullptr ? "where the PEN is divided" : "";
}

std::size_t main_earthing_terminal(const site::Site& site) {
  for (std::size_t e = 0; e < site.elements.size(); ++e)
    if (site::facts<site::MainEarthingTerminal>(site.elements[e]) != nullptr) return e;
  return none;
}

std::vector<FactBlock> supply_facts(const site::Site& site) {
  std::vector<FactBlock> blocks;
  FactBlock earthing{.heading = "Earthing", .facts = {}};
  if (const std::size_t met = main_earthing_terminal(site); met != none)
    earthing.facts.push_back({"Main earthing terminal", place_of_met(site, met)});
  for (const site::Element& element : site.elements) {
    if (const auto* supply = site::facts<site::Supply>(element))
      blocks.push_back(block_of_supply(site, *supply));
    if (const auto* electrode = site::facts<site::Electrode>(element))
      earthing.facts.push_back(
          {"Earth electrode " + element.designation, said(electrode->resistance)});
    if (const std::string words = bond_words(element); !words.empty())
      earthing.facts.push_back({"Neutral to earth at " + element.designation, words});
  }
  if (!earthing.facts.empty()) blocks.push_back(std::move(earthing));
  return blocks;
}

}  // namespace linewright::diagram
