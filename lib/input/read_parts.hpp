// The parts of a site file, each read into the draft. Elements first, then what joins them.
#pragma once

#include "input/draft.hpp"
#include "input/fields.hpp"

namespace linewright::input {

/// Reads the sections that stand for themselves: site, profile, signals.
void read_title(Draft& draft, const Fields& root);
void read_signals(Draft& draft, const Fields& root);
/// A text or a list of texts; none if not given.
std::vector<std::string> texts(const Node* node, Mistakes& to);

/// Reads what authorities want on the drawing. Needs all elements.
void read_permit(Draft& draft, const Fields& root);

/// Makes the public supply with its fuse and the place where its PEN is split.
void read_supply(Draft& draft, const Fields& root);
/// Phases and voltages from "3/N/PE 230/400 V 50 Hz"; false after reporting what cannot be read.
bool read_system(const Node& node, site::System& system, Mistakes& mistakes);
/// True where the words of a system say that a PE or a PEN comes with it.
bool brings_earth(const site::System& system);

/// True where they say that a neutral comes with it, or say nothing.
bool brings_neutral(const site::System& system);

/// Makes generators and inverters with their batteries and PV.
void read_sources(Draft& draft, const Fields& root);

/// Makes boards, assemblies, and what stands outside them; keeps their chains for later.
void read_assemblies(Draft& draft, const Fields& root);
void read_boards(Draft& draft, const Fields& root);

/// Makes what the section `earthing` and links elsewhere describe, and joins it. Needs all
/// elements.
void read_earthing(Draft& draft, const Fields& root);
/// A map of links written in an assembly or in `earthing`.
void read_links(Draft& draft, const Node* links, std::size_t assembly);
/// Joins the PE of a board, generator or inverter to the main earthing terminal by its own cable.
void read_own_earth(Draft& draft, const Node* earth, site::Terminal at);

/// What a supply says of the watch over its insulation.
void read_monitor(const Fields& fields, site::Unearthed& facts, Mistakes& mistakes);
/// What a generator or inverter says of running without a joint of neutral and earth.
void read_unearthed(const Fields& fields, site::Unearthed& facts, Mistakes& mistakes);

/// "clockwise" or "anticlockwise".
std::optional<site::Rotation> read_rotation(const Node* node, Mistakes& mistakes);
/// What takes an inverter off the grid; none where it is not given.
std::optional<site::InterfaceProtection> read_protection(const Node* node, Mistakes& mistakes);
/// What a transfer device says of overlapping, and of choosing by itself.
std::optional<site::ClosedTransition> read_closed_transition(const Node* node, Mistakes& mistakes);
std::optional<site::AutomaticTransfer> read_automatic(const Node* node, Mistakes& mistakes);

/// Reads states, interlocks, synchronising sets. Needs all elements.
void read_states(Draft& draft, const Fields& root);
void read_interlocks(Draft& draft, const Fields& root);
void read_synchronised(Draft& draft, const Fields& root);

/// What inverters and generators say of other elements. Needs all elements.
void read_source_references(Draft& draft, const Fields& root);

}  // namespace linewright::input
