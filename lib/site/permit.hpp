// What an authority or a distributor wants to read on a drawing, beyond what the rules ask for.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "units/quantity.hpp"

namespace linewright::site {

/// How much may be fed into the supply, and what holds it to that.
struct ExportLimit {
  bool none = false;  ///< the file says that nothing limits it
  std::optional<ActivePower> limit;
  std::string by;  ///< designation of the meter or device that holds it
};

/// A switch with a duty of its own, and where people find it.
struct SwitchingPlace {
  std::string at;     ///< designation
  std::string place;  ///< in words
  std::string opens;  ///< emergency off: what it makes dead, in words
};

/// Facts for permit and connection papers; empty means not given.
struct Permit {
  std::string customer;  ///< for whom the installation is
  std::string property;  ///< number of the parcel, as the land register gives it
  std::string installer;
  std::string installer_registration;
  std::string designer_licence;
  std::vector<std::string> standards;  ///< with their editions
  std::string contracted_demand;       ///< as written: "36 kVA", "60 A"
  std::string
      ownership_boundary;  ///< designation of the last thing that belongs to the distributor
  std::string metering_concept;
  std::optional<ExportLimit> export_limit;
  std::optional<SwitchingPlace> isolation_point;
  std::optional<SwitchingPlace> emergency;
  bool no_emergency = false;           ///< the file says that there is none
  std::string upstream_coordination;   ///< with the device ahead of the site
  std::vector<std::string> operation;  ///< how the site works, sentence by sentence
  std::vector<std::string> clearances;
};

}  // namespace linewright::site
