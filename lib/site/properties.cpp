#include "site/properties.hpp"

#include <algorithm>

#include "site/properties_parts.hpp"

namespace linewright::site {
namespace {

struct KindWords {
  std::string operator()(const Busbar&) const { return "busbar"; }
  std::string operator()(const MainEarthingTerminal&) const { return "main earthing terminal"; }
  std::string operator()(const Supply&) const { return "supply"; }
  std::string operator()(const Generator&) const { return "generator"; }
  std::string operator()(const Inverter&) const { return "inverter"; }
  std::string operator()(const Battery&) const { return "battery"; }
  std::string operator()(const PvArray&) const { return "PV array"; }
  std::string operator()(const Device& device) const { return std::string(word(device.kind)); }
  std::string operator()(const Bond&) const { return "neutral-earth link"; }
  std::string operator()(const PenSplit&) const { return "PEN split"; }
  std::string operator()(const Electrode&) const { return "earth electrode"; }
  std::string operator()(const Connector&) const { return "connector"; }
  std::string operator()(const Meter&) const { return "meter"; }
  std::string operator()(const SurgeProtector&) const { return "surge protector"; }
  std::string operator()(const Transformer&) const { return "transformer"; }
  std::string operator()(const LoadGroup&) const { return "load"; }
};

void tell(const std::string& name, const std::optional<SwitchingPlace>& place, Properties& into) {
  if (!place) return;
  const auto& [at, where, opens] = *place;
  into.add(name, at).add(name + ", place", where).add(name + ", opens", opens);
}

}  // namespace

Properties& Properties::add(std::string name, const std::vector<std::string>& values) {
  std::string words;
  for (const std::string& value : values)
    words += (words.empty() ? "" : ", ") + value;
  return add(std::move(name), words);
}

std::vector<std::string> names_of(const std::vector<std::size_t>& elements,
                                  const ElementNames& names) {
  std::vector<std::string> words;
  for (const std::size_t element : elements)
    words.push_back(names(element));
  std::ranges::sort(words);
  return words;
}

std::string kind_words(const Facts& facts) {
  return std::visit(KindWords{}, facts);
}

std::vector<Property> properties_of(const Facts& facts, const ElementNames& names) {
  Properties list;
  std::visit([&](const auto& of_kind) { tell(of_kind, names, list); }, facts);
  return list.take();
}

std::vector<Property> properties_of(const Assembly& assembly) {
  const auto& [designation, name, where, kind, service, insulating, fire_risk, indicator,
               interior] = assembly;
  Properties list;
  list.add("name", name)
      .add("kind", kind)
      .add("service", service)
      .add("insulating enclosure", insulating)
      .add("fire risk", fire_risk)
      .add("indicator", indicator)
      .add("interior", interior);
  return list.take();
}

// The words that the user wrote are left out: "3×2,5 mm²" and "3×2.5 mm²" are one cable.
std::vector<Property> properties_of(const Cable& cable) {
  const auto& [written, cores, cross_section, earth_cross_section, material, insulation, length,
               method, double_insulated, carries, crossed] = cable;
  Properties list;
  list.add("cores", cores)
      .add("size", cross_section)
      .add("earth conductor", earth_cross_section)
      .add("material", material)
      .add("insulation", insulation)
      .add("length", length)
      .add("method", method)
      .add("double insulated", double_insulated)
      .add("carries", carries)
      .add("crossed lines", words(crossed));
  return list.take();
}

std::vector<Property> properties_of(const Permit& permit) {
  const auto& [customer, property, installer, registration, licence, standards, demand, boundary,
               metering, export_limit, isolation_point, emergency, no_emergency, coordination,
               operation, clearances] = permit;
  Properties list;
  list.add("customer", customer)
      .add("property", property)
      .add("installer", installer)
      .add("installer's registration", registration)
      .add("designer licence", licence)
      .add("standards", standards)
      .add("contracted demand", demand)
      .add("ownership boundary", boundary)
      .add("metering concept", metering);
  if (export_limit) {
    const auto& [no_limit, limit, by] = *export_limit;
    if (no_limit) list.add("export limit", std::string("none"));
    list.add("export limit", limit).add("export limited by", by);
  }
  tell("isolation point", isolation_point, list);
  tell("emergency off", emergency, list);
  if (no_emergency) list.add("emergency off", std::string("none"));
  list.add("upstream coordination", coordination)
      .add("operation", operation)
      .add("clearances", clearances);
  return list.take();
}

std::vector<Property> properties_of(const System& system) {
  const auto& [phases, line_to_earth, line_to_line, frequency, written] = system;
  Properties list;
  list.add("phases", phases)
      .add("line to earth", line_to_earth)
      .add("line to line", line_to_line)
      .add("frequency", frequency);
  return list.take();
}

std::vector<Property> properties_of(const Title& title) {
  const auto& [site_name, owner, address, drawing, date, status, creator, approver, language, paper,
               revisions, notes] = title;
  Properties list;
  list.add("name", site_name)
      .add("owner", owner)
      .add("address", address)
      .add("drawing", drawing)
      .add("date", date)
      .add("status", status)
      .add("creator", creator)
      .add("approver", approver)
      .add("language", language)
      .add("paper", std::string(word(paper.size)) + " " + std::string(word(paper.turn)));
  return list.take();
}

}  // namespace linewright::site
