#include "documents/permit_lines.hpp"

#include <algorithm>

#include <fmt/core.h>

#include "documents/permit_parts.hpp"
#include "units/print.hpp"

namespace linewright::documents {
namespace {

using site::Device;
using site::DeviceKind;
using site::none;
using site::Site;

// Where the first run with lines leads from each element, as it is drawn; `none` if nowhere.
std::vector<std::size_t> next_along_lines(const Site& site) {
  std::vector<std::size_t> next(site.elements.size(), none);
  for (const site::Run& run : site.runs)
    if (next[run.from.element] == none && !(run.conductors & site::lines).empty())
      next[run.from.element] = run.to.element;
  return next;
}

std::string signal_words(const site::SignalLink& link) {
  std::string words = listed({link.kind, link.protocol});
  std::string devices;
  for (const std::string& device : link.devices)
    devices += (devices.empty() ? "" : " – ") + device;
  if (!link.designation.empty()) words = link.designation + " " + words;
  words += ": " + devices;
  if (!link.master.empty()) words += ", led by " + link.master;
  return link.on_loss.empty() ? words : words + "; if it fails: " + link.on_loss;
}

}  // namespace

std::vector<Said> alike(const std::vector<Said>& all) {
  std::vector<Said> groups;
  for (const Said& one : all) {
    const auto same =
        std::ranges::find_if(groups, [&](const Said& group) { return group.words == one.words; });
    if (same == groups.end())
      groups.push_back(one);
    else
      same->designation += ", " + one.designation;
  }
  return groups;
}

std::string listed(const std::vector<std::string>& parts) {
  std::string words;
  for (const std::string& part : parts)
    if (!part.empty()) words += (words.empty() ? "" : ", ") + part;
  return words;
}

const site::Supply* supply_of(const Site& site) {
  for (const site::Element& element : site.elements)
    if (const auto* supply = site::facts<site::Supply>(element)) return supply;
  return nullptr;
}

std::size_t main_switch(const Site& site) {
  const auto supplies = elements_with<site::Supply>(site);
  const std::vector<std::size_t> next = next_along_lines(site);
  std::size_t at = supplies.empty() ? none : supplies.front();
  for (std::size_t steps = 0; at != none && steps < site.elements.size(); ++steps) {
    const auto* device = site::facts<Device>(site.elements[at]);
    if (device != nullptr && device->kind != DeviceKind::fuse && device->kind != DeviceKind::link)
      return at;
    at = next[at];
  }
  return none;
}

std::vector<PermitLine> signal_lines(const PermitFacts& facts) {
  PermitLines to(PermitSubject::signals);
  for (const std::size_t e : elements_with<site::Meter>(facts.site)) {
    const site::Element& element = facts.site.elements[e];
    const auto& meter = *site::facts<site::Meter>(element);
    to.add({67}, element.designation + " current transformers: ", meter.current_transformers);
  }
  for (const site::SignalLink& link : facts.site.signals)
    to.add({68}, signal_words(link));
  return to.lines;
}

std::vector<PermitLine> standard_lines(const PermitFacts& facts) {
  PermitLines to(PermitSubject::standards);
  for (const std::string& standard : facts.site.permit.standards)
    to.add({11}, standard);
  return to.lines;
}

std::vector<PermitLine> on_site_lines(const PermitFacts& facts) {
  const site::Permit& permit = facts.site.permit;
  PermitLines to(PermitSubject::on_site);
  if (permit.installer_registration.empty()) to.add({5}, "Installer, registration number:");
  if (permit.designer_licence.empty()) to.add({6}, "Designer, licence number:");
  to.add({10}, "Designer, signature and date:");
  to.add({10}, "Installer, signature and date:");
  to.add({10}, "Approved, signature and stamp:");
  for (const std::size_t e : elements_with<site::Electrode>(facts.site))
    if (!site::facts<site::Electrode>(facts.site.elements[e])->measured)
      to.add({21}, facts.site.elements[e].designation + ", resistance measured:");
  to.add({23}, "Short-circuit current, measured:");
  to.add({23}, "Loop impedance, measured:");
  return to.lines;
}

std::string heading(PermitSubject subject) {
  switch (subject) {
    case PermitSubject::supply:
      return "Supply and connection";
    case PermitSubject::sources:
      return "Sources";
    case PermitSubject::protection:
      return "Protection";
    case PermitSubject::earthing:
      return "Earthing";
    case PermitSubject::operation:
      return "Operation";
    case PermitSubject::signals:
      return "Signals and measuring";
    case PermitSubject::standards:
      return "Standards";
    case PermitSubject::on_site:
      return "To be filled in on site";
  }
  return {};
}

std::vector<PermitLine> permit_lines(const PermitFacts& facts) {
  std::vector<PermitLine> all;
  for (const auto make : {supply_lines, source_lines, protection_lines, earthing_lines,
                          operation_lines, signal_lines, standard_lines, on_site_lines}) {
    const std::vector<PermitLine> lines = make(facts);
    all.insert(all.end(), lines.begin(), lines.end());
  }
  return all;
}

}  // namespace linewright::documents
