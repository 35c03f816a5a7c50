// How the site runs, as a table: states against positions, what is alive, where the bond is.
#pragma once

#include <string>
#include <vector>

#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::documents {

/// One named state in words.
struct StateRow {
  std::string state;
  std::vector<std::string> positions;  ///< one a column: "1" closed, "0" open, "I", "II", "?"
  std::string alive;                   ///< "all", "none", or the boards that are
  std::string bond;                    ///< "supply (TT)", "-X5", "none", "-X5 + -T1", "?"
};

/// The table; `devices` head the columns of positions.
struct StateTable {
  std::vector<std::string> devices;
  std::vector<StateRow> rows;
};

/// A row a named state. Columns are the devices and links that do not stand the same in all.
StateTable state_table(const site::Site& site, const network::Network& network,
                       const std::vector<network::StateView>& states);

}  // namespace linewright::documents
