#include "input/read_parts.hpp"
#include "input/sections.hpp"
#include "input/values.hpp"

namespace linewright::input {
namespace {

constexpr Choice<site::Rotation> rotations[] = {{"clockwise", site::Rotation::clockwise},
                                                {"anticlockwise", site::Rotation::anticlockwise}};

/// "196 V within 2.5 s": a limit, and the time within which it acts.
template <class Q>
site::TripSetting<Q> trip(const Node* node, Mistakes& to) {
  const std::optional<std::string> written = value_text(node, to);
  if (!written) return {};
  constexpr std::string_view between = " within ";
  const std::size_t cut = written->find(between);
  const Node first = scalar(written->substr(0, cut), node->where);
  site::TripSetting<Q> setting{.at = quantity<Q>(&first, to), .within = {}};
  if (cut == std::string::npos) return setting;
  const Node second = scalar(written->substr(cut + between.size()), node->where);
  setting.within = quantity<Time>(&second, to);
  return setting;
}

}  // namespace

std::optional<site::Rotation> read_rotation(const Node* node, Mistakes& mistakes) {
  return choice(node, rotations, mistakes);
}

std::optional<site::InterfaceProtection> read_protection(const Node* node, Mistakes& mistakes) {
  if (node == nullptr) return std::nullopt;
  const Fields fields(*node, protection_section, mistakes);
  site::InterfaceProtection protection;
  protection.certificate = text(fields.find("certificate"), mistakes);
  protection.undervoltage = trip<Voltage>(fields.find("undervoltage"), mistakes);
  protection.overvoltage = trip<Voltage>(fields.find("overvoltage"), mistakes);
  protection.underfrequency = trip<Frequency>(fields.find("underfrequency"), mistakes);
  protection.overfrequency = trip<Frequency>(fields.find("overfrequency"), mistakes);
  protection.island_detection = quantity<Time>(fields.find("detects island in"), mistakes);
  protection.island_method = text(fields.find("detects island by"), mistakes);
  protection.reconnects_after = quantity<Time>(fields.find("reconnects after"), mistakes);
  protection.external_relay = yes_no(fields.find("external relay"), mistakes);
  return protection;
}

std::optional<site::ClosedTransition> read_closed_transition(const Node* node, Mistakes& mistakes) {
  if (node == nullptr) return std::nullopt;
  const Fields fields(*node, closed_transition_section, mistakes);
  return site::ClosedTransition{
      .synchronism_check = yes_no(fields.find("synchronism check"), mistakes),
      .overlap = quantity<Time>(fields.find("overlap"), mistakes),
      .distributor_consent = yes_no(fields.find("distributor consent"), mistakes)};
}

std::optional<site::AutomaticTransfer> read_automatic(const Node* node, Mistakes& mistakes) {
  if (node == nullptr) return std::nullopt;
  const Fields fields(*node, automatic_section, mistakes);
  site::AutomaticTransfer automatic;
  if (const Node* priority = fields.find("priority")) {
    if (!priority->is_list())
      mistakes.add(priority->where, "'priority' is a list of sources",
                   "write the sources in order, such as [supply, -G2]");
    for (const Node& source : priority->items)
      automatic.priority.push_back(text(&source, mistakes));
  }
  automatic.drops_out = quantity<Voltage>(fields.find("drops out"), mistakes);
  automatic.picks_up = quantity<Voltage>(fields.find("picks up"), mistakes);
  automatic.returns_after = quantity<Time>(fields.find("returns after"), mistakes);
  return automatic;
}

}  // namespace linewright::input
