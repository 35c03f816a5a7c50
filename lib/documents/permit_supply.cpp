// The lines on the supply and on what stands between it and the site.
#include <fmt/core.h>

#include "documents/permit_parts.hpp"
#include "units/print.hpp"

namespace linewright::documents {
namespace {

using site::Device;
using site::none;
using site::Site;

std::string place_words(const Site& site, const site::SwitchingPlace& place) {
  const std::size_t element = site.find(place.at);
  const auto* device = element == none ? nullptr : site::facts<Device>(site.elements[element]);
  const bool lockable = device != nullptr && device->lockable == true;
  return listed({place.at, place.opens.empty() ? "" : "opens " + place.opens, place.place,
                 lockable ? "can be locked" : ""});
}

std::string export_words(const site::ExportLimit& limit) {
  if (limit.none) return "Feeding into the supply is not limited.";
  if (!limit.limit) return {};
  return fmt::format("Export limit: {}{}", print(*limit.limit),
                     limit.by.empty() ? "" : ", held by " + limit.by);
}

std::string main_switch_words(const Site& site) {
  const std::size_t element = main_switch(site);
  if (element == none) return {};
  const auto& device = *site::facts<Device>(site.elements[element]);
  return fmt::format("Main switch: {}",
                     listed({site.elements[element].designation,
                             device.rated_current ? print(*device.rated_current) : "",
                             device.poles ? device.poles->written : ""}));
}

constexpr const char* not_stated = "not stated";

template <class Quantity>
std::string said(const std::optional<Quantity>& value) {
  return value ? print(*value) : std::string(not_stated);
}

std::string said(const std::string& words) {
  return words.empty() ? std::string(not_stated) : words;
}

std::string fuse(const site::Supply& supply) {
  return supply.service_fuse
             ? print(*supply.service_fuse) + (supply.service_fuse_curve.empty() ? "" : " ") +
                   supply.service_fuse_curve
             : std::string(not_stated);
}

std::string rotation(const site::Supply& supply) {
  if (!supply.rotation) return not_stated;
  return *supply.rotation == site::Rotation::clockwise ? "clockwise, L1 L2 L3"
                                                       : "anticlockwise, L1 L3 L2";
}

// What the distributor has to say of its supply; what the file does not state is told, so that
// somebody asks.
void add_supply(const Site& site, const site::Supply& supply, PermitLines& to) {
  to.add({}, "System: ", said(site.system.written));
  to.add({}, "Earthing of the supply: ",
         supply.earthing ? std::string(mark(*supply.earthing)) : not_stated);
  if (!supply.fault_current_max && !supply.fault_current_min)
    to.add({}, "Prospective fault current: ", not_stated);
  to.add({}, "External earth-fault loop: ", said(supply.external_loop));
  to.add({}, "Distributor's fuse: ", fuse(supply));
  if (site.system.phases == 3) to.add({}, "Order of the lines: ", rotation(supply));
  if (supply.meter_point.empty())
    to.add({}, "Meter point: ", not_stated);
  else
    to.add({4}, "Meter point: ", supply.meter_point);
}

}  // namespace

std::vector<PermitLine> supply_lines(const PermitFacts& facts) {
  const site::Permit& permit = facts.site.permit;
  const site::Supply* supply = supply_of(facts.site);
  PermitLines to(PermitSubject::supply);
  to.add({2}, "Property: ", permit.property);
  to.add({3}, "Customer: ", permit.customer);
  if (supply != nullptr) add_supply(facts.site, *supply, to);
  if (!permit.installer_registration.empty())
    to.add({5}, "Installer: ",
           listed({permit.installer, "registered as " + permit.installer_registration}));
  if (!permit.designer_licence.empty())
    to.add({6},
           "Designer: ", listed({facts.site.title.creator, "licence " + permit.designer_licence}));
  if (!permit.ownership_boundary.empty())
    to.add({13}, fmt::format("Ownership boundary: {} is the last that belongs to the distributor",
                             permit.ownership_boundary));
  to.add({16}, "Contracted demand: ", permit.contracted_demand);
  to.add({17}, main_switch_words(facts.site));
  if (permit.export_limit) to.add({49}, export_words(*permit.export_limit));
  if (permit.emergency) to.add({50}, "Emergency off: ", place_words(facts.site, *permit.emergency));
  if (permit.no_emergency) to.add({50}, "There is no emergency off.");
  if (permit.isolation_point)
    to.add({51}, "Isolation from the supply, for the distributor: ",
           place_words(facts.site, *permit.isolation_point));
  to.add({59}, "Coordination with the device ahead: ", permit.upstream_coordination);
  to.add({66}, "Metering concept: ", permit.metering_concept);
  return to.lines;
}

}  // namespace linewright::documents
