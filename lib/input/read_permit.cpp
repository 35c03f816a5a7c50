#include <fmt/core.h>

#include "input/read_parts.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"

namespace linewright::input {
namespace {

bool is_none(const Node& node) {
  return node.is_scalar() && node.text == "none";
}

// The designation of something on the site; empty after reporting that there is no such thing.
std::string designation(Draft& draft, const Node* node) {
  const std::optional<PlaceName> name = name_of(node, draft.mistakes);
  if (!name) return {};
  const std::size_t element = find_element(draft, *name);
  return element == site::none ? "" : draft.site.elements[element].designation;
}

// "36 kVA", "60 A", "24 kW": kept as written once it reads as one of them.
std::string demand(const Node* node, Mistakes& to) {
  const std::optional<std::string> written = value_text(node, to);
  if (!written) return {};
  if (read_quantity<ApparentPower>(*written) || read_quantity<Current>(*written) ||
      read_quantity<ActivePower>(*written))
    return *written;
  to.add(node->where, fmt::format("{} is neither a power nor a current", quote(*written)),
         "expected a value such as '36 kVA' or '60 A'");
  return {};
}

void read_installer(const Node* node, site::Permit& permit, Mistakes& to) {
  if (node == nullptr) return;
  if (node->is_scalar()) {
    permit.installer = text(node, to);
    return;
  }
  const Fields fields(*node, installer_section, to);
  permit.installer = text(fields.find("company"), to);
  permit.installer_registration = text(fields.find("registration"), to);
}

std::optional<site::ExportLimit> read_export(Draft& draft, const Node* node) {
  if (node == nullptr) return std::nullopt;
  site::ExportLimit limit;
  if (is_none(*node)) {
    limit.none = true;
  } else if (node->is_scalar()) {
    limit.limit = quantity<ActivePower>(node, draft.mistakes);
  } else {
    const Fields fields(*node, export_limit_section, draft.mistakes);
    limit.limit = quantity<ActivePower>(fields.find("limit"), draft.mistakes);
    limit.by = designation(draft, fields.find("by"));
  }
  return limit;
}

std::optional<site::SwitchingPlace> read_place(Draft& draft, const Node* node,
                                               const Section& section) {
  if (node == nullptr) return std::nullopt;
  if (node->is_scalar())
    return site::SwitchingPlace{.at = designation(draft, node), .place = {}, .opens = {}};
  const Fields fields(*node, section, draft.mistakes);
  site::SwitchingPlace place{.at = designation(draft, fields.find("at")),
                             .place = text(fields.find("place"), draft.mistakes),
                             .opens = {}};
  if (&section == &emergency_section) place.opens = text(fields.find("opens"), draft.mistakes);
  return place;
}

}  // namespace

void read_permit(Draft& draft, const Fields& root) {
  const Node* node = root.find("permit");
  if (node == nullptr) return;
  Mistakes& to = draft.mistakes;
  const Fields fields(*node, permit_section, to);
  site::Permit& permit = draft.site.permit;
  permit.customer = text(fields.find("customer"), to);
  permit.property = text(fields.find("property"), to);
  read_installer(fields.find("installer"), permit, to);
  permit.designer_licence = text(fields.find("designer licence"), to);
  permit.standards = texts(fields.find("standards"), to);
  permit.contracted_demand = demand(fields.find("contracted demand"), to);
  permit.ownership_boundary = designation(draft, fields.find("ownership boundary"));
  permit.metering_concept = text(fields.find("metering concept"), to);
  permit.export_limit = read_export(draft, fields.find("export limit"));
  permit.isolation_point =
      read_place(draft, fields.find("isolation point"), isolation_point_section);
  if (const Node* emergency = fields.find("emergency off"); emergency && is_none(*emergency))
    permit.no_emergency = true;
  else
    permit.emergency = read_place(draft, emergency, emergency_section);
  permit.upstream_coordination = text(fields.find("upstream coordination"), to);
  permit.operation = texts(fields.find("operation"), to);
  permit.clearances = texts(fields.find("clearances"), to);
}

}  // namespace linewright::input
