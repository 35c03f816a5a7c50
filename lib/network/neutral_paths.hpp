// Questions about single neutrals and protective conductors that several rules ask.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "network/network.hpp"
#include "network/positions.hpp"
#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::network {

/// The node of a source's neutral (or PEN), or `no_node`.
std::uint32_t source_neutral(const Network& network, std::size_t element);

/// The edge with which an element joins neutral and earth, or null. No element has two.
const Edge* bond_edge(const Network& network, std::size_t element);

/// Edges of a shortest way between two nodes over what is closed for sure, bonds and electrodes
/// left out and elements marked in `avoided` not entered. Empty also if the nodes are one.
std::vector<std::uint32_t> way(const Network& network, const Positions& positions,
                               std::uint32_t from, std::uint32_t to,
                               const std::vector<bool>& avoided = {});

/// Whether two nodes are one conductor in these positions without entering marked elements.
bool joined_without(const Network& network, const Positions& positions, std::uint32_t from,
                    std::uint32_t to, const std::vector<bool>& avoided);

/// Whether some setting of the switches joins two nodes while the marked elements stay open. A
/// changeover is in one position at a time: nothing enters it by one throw and leaves by another.
/// True as well where there are too many ways to look at them all.
bool can_join(const Network& network, std::uint32_t from, std::uint32_t to,
              const std::vector<bool>& held_open);

/// Marks the elements that change over between sources: changeovers, and whatever stands
/// differently in two states in which something is alive.
std::vector<bool> transfer_elements(const Network& network, const site::Site& site,
                                    std::span<const StateView> states);

/// Whether a passage leads a neutral through a device or an inverter whose line poles at the same
/// terminals stand open in these positions: it would be open as well, were it switched with them.
bool bypasses_open_lines(const Network& network, const Positions& positions, const Edge& passage);

/// Electrodes of the site itself on the main earthing terminal, joined to it by protective
/// conductors that do not run through the supply (a switch among them is another rule's).
std::vector<std::size_t> electrodes_on_main_terminal(const Network& network,
                                                     const site::Site& site);

/// Whether the protective conductor of an element's terminal is joined to the main earthing
/// terminal by conductors that do not run through the supply.
bool on_main_terminal(const Network& network, const site::Site& site, std::size_t element,
                      std::size_t terminal = 0);

/// The protective conductor of the main earthing terminal, or `no_node`.
std::uint32_t main_terminal_node(const Network& network, const site::Site& site);

/// By node: which stretch of joined protective conductors and PENs it belongs to. Switches among
/// them count as closed, and the supply's own earth joins what stands on it.
std::vector<std::uint32_t> protective_stretches(const Network& network, const site::Site& site);

}  // namespace linewright::network
