#include "diagram/site_facts.hpp"

namespace linewright::diagram {
namespace {

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
  return site::none;
}

}  // namespace linewright::diagram
