// Every named state in full: positions, sources, what feeds each board, bonds, earthing, and the
// residual-current device that sees a fault of each circuit.
#pragma once

#include <string>
#include <vector>

#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::documents {

/// One thing through all states.
struct AccountRow {
  std::string subject;             ///< "-Q1", "supply", "+A4", "+A2 -WB1"
  std::string name;                ///< the user's words, may be empty
  std::vector<std::string> cells;  ///< by state
  std::string group;               ///< circuits only: the board they belong to
  std::string device;              ///< circuits only: the last device before the circuit
};

/// What an account tells in one of its parts.
enum class AccountPart { switches, sources, boards, bonds, earthing, rcds };

/// One part; its rows in the order of the file.
struct AccountSection {
  AccountPart part = AccountPart::switches;
  std::vector<AccountRow> rows;
};

/// All parts, one column a named state.
struct StatesAccount {
  std::vector<std::string> states;
  std::vector<AccountSection> sections;
  std::vector<std::string> always_closed;  ///< switches that stand closed in every state
  std::vector<std::string> always_open;
  std::vector<std::string> not_known;  ///< "where -Q5 stands (grid, island)"
};

/// The account of a site. Rows of bonds and earthing are the zones, by the source that leads each.
/// A cell is "–" where there is nothing to tell and has a "?" where the file leaves it open.
StatesAccount states_account(const site::Site& site, const network::Network& network,
                             const std::vector<network::StateView>& states);

/// "TN-S", "TN-C-S", "TT", "IT": how what the zone feeds is earthed, by the way its fault currents
/// come home. "IT" where nothing joins its neutral to earth; "?" where the file leaves it open; two
/// of them where circuits differ.
std::string earthing_kind(const site::Site& site, const network::Network& network,
                          const network::StateView& state, const network::Zone& zone);

/// Designations of the devices that see an earth fault of the circuit from every source that feeds
/// it, from the source down; "none", "?", or "–" if it is dead.
std::string rcds_that_see(const site::Site& site, const network::StateView& state,
                          std::size_t load);

/// As a table for people, no line wider than `width` unless a word is.
std::string account_text(const StatesAccount& account, std::size_t width = 100);

/// As comma-separated values, one row a line; no cell begins with a sign that spreadsheets take for
/// a formula.
std::string account_csv(const StatesAccount& account);

/// As one JSON object.
std::string account_json(const StatesAccount& account);

}  // namespace linewright::documents
