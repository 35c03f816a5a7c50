// Changes to a site of which a remedy consists: values that speak of the site and never of its
// file. Only lib/input knows which text they change.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace linewright {

/// Words of a device's line. Each takes the place of the words that say the same thing ("4P" of
/// "3P", "two-way" of "one-way", "type B" of "type A"), or is added where none does.
struct DeviceWords {
  std::string element;  ///< designation of a device, connector, meter or surge protector
  std::string words;    ///< as in the site file: "4P", "30 mA type A"
  friend bool operator==(const DeviceWords&, const DeviceWords&) = default;
};

/// A key of what the file says of an element: of a source, its PV or battery, a circuit (named by
/// its load), a device in its long form, a link or an electrode. Takes the place of the value that
/// is there, or is added.
struct KeyValue {
  std::string element;
  std::string key;    ///< as in the site file: "bond"
  std::string value;  ///< as in the site file: "closes in island"
  friend bool operator==(const KeyValue&, const KeyValue&) = default;
};

/// A device (or an inner contact of an inverter) in a position.
struct ElementPosition {
  std::string element;
  std::string position;  ///< "closed", "open", "I", "0", "II"
  std::string part;      ///< "" for the device itself, "transfer" or "bond" in an inverter
  friend bool operator==(const ElementPosition&, const ElementPosition&) = default;
};

/// A new interlock: at most one of these at a time.
struct NewInterlock {
  std::vector<ElementPosition> never_together;
  std::string means;  ///< "mechanical", "key"
  friend bool operator==(const NewInterlock&, const NewInterlock&) = default;
};

/// How a device stands in a named state, in place of what the state says of it, or added.
struct StatePosition {
  std::string state;
  ElementPosition stands;
  friend bool operator==(const StatePosition&, const StatePosition&) = default;
};

/// A new device in series with one that is there, in the same enclosure.
struct NewDevice {
  enum class Side { ahead, behind };  ///< seen from the supply's end of the chain as written
  std::string element;                ///< the device that is there
  Side side = Side::behind;
  std::string words;  ///< its line without designation: "RCD 63 A 4P 300 mA type A S"
  friend bool operator==(const NewDevice&, const NewDevice&) = default;
};

/// A new neutral-earth link made on site.
struct NewLink {
  std::string at;                      ///< designation of the source, busbar or device it stands at
  std::vector<std::string> closed_in;  ///< states; empty: fixed, always closed
  friend bool operator==(const NewLink&, const NewLink&) = default;
};

/// A key that goes, with its value; without a key the element itself, a neutral-earth link.
struct TakenOut {
  std::string element;
  std::string key;
  friend bool operator==(const TakenOut&, const TakenOut&) = default;
};

/// One change. A remedy is a list of them that belong together.
using Edit =
    std::variant<DeviceWords, KeyValue, NewInterlock, StatePosition, NewDevice, NewLink, TakenOut>;

/// One line that says the change in words: "-Q1: 4P", "-T1: bond: closes in island".
std::string words_of(const Edit& edit);

}  // namespace linewright
