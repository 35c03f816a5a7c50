// A device written on one line, such as "-F2 B16 1P+N 30 mA type A 6 kA", or as a map.
#pragma once

#include <optional>
#include <string>

#include "input/fields.hpp"
#include "input/mistakes.hpp"
#include "input/node.hpp"
#include "site/site.hpp"

namespace linewright::input {

/// What stands in series in a chain or under `devices`.
struct DeviceLine {
  std::string designation;  ///< empty: to be made
  std::string name;
  Place where;
  site::Facts facts;
};

/// Reads a line or a map; none after reporting what cannot be read. A line without a kind word is a
/// device of kind `assumed`, where one is given.
std::optional<DeviceLine> read_device(const Node& node, Mistakes& mistakes,
                                      std::optional<site::DeviceKind> assumed = std::nullopt);

/// The letter of IEC 81346-2 that the facts ask for: "Q", "F", "P" …
std::string class_letter(const site::Facts& facts);

/// The keys of a device written as a map.
extern const Section device_section;

}  // namespace linewright::input
