// The site as the layout sees it: series devices contracted to chains between hubs, hubs in frames,
// frames in tiers.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "site/site.hpp"

namespace linewright::diagram {

/// What a place is where chains meet or end.
enum class HubKind {
  supply,
  generator,
  inverter,  ///< with its DC side, drawn as one group
  changeover,
  bar,           ///< a busbar
  joint,         ///< where more than two runs meet without a bar
  load,          ///< a load group, or the open end of a spare circuit
  pendant,       ///< hangs below a bar and ends in earth: bond, surge protection, earthing terminal
  reference_in,  ///< comes from another place of the document
  reference_out  ///< goes on at another place of the document
};

/// An element or a run of a chain.
struct Piece {
  enum class Kind { element, run };
  Kind kind = Kind::element;
  std::size_t index = site::none;
  friend bool operator==(const Piece&, const Piece&) = default;
};

/// What stands in series between two hubs, from the upper to the lower one.
struct Chain {
  std::size_t upper = site::none;
  std::size_t lower = site::none;
  std::string upper_port;  ///< terminal of the upper hub's element; empty for bars and joints
  std::string lower_port;
  std::vector<Piece> pieces;
};

/// A source of direct current and what stands between it and its inverter, downwards.
struct Branch {
  std::size_t source = site::none;
  std::vector<Piece> pieces;
};

/// All that stands above one DC terminal of an inverter.
struct DcSide {
  std::string port;
  std::vector<Branch> branches;
};

/// A joint with earth at the side of a source, or below the main earthing terminal.
struct Attachment {
  std::size_t element = site::none;  ///< bond, electrode or surge protection; none: a bare earth
  std::size_t run = site::none;
};

/// A place where chains meet or end.
struct Hub {
  HubKind kind = HubKind::bar;
  std::size_t element = site::none;  ///< the element it stands for, if any
  std::size_t frame = site::none;    ///< index into Plan::frames; sources, loads, pendants: none
  int tier = 0;                      ///< of its frame, from 1; 0 for sources
  int rank = 0;                      ///< inside its frame, from 1
  std::vector<DcSide> dc;
  std::vector<Attachment> attachments;
  std::vector<std::size_t> inner_runs;  ///< joints only: runs inside the joint itself
  std::vector<std::string> reference;   ///< references only: what is said of the other end
  std::size_t link = site::none;        ///< references only: both ends have the same number
  bool continued = false;               ///< a bar that another sheet has drawn already
  std::size_t guard = site::none;       ///< continued joints: the residual-current device ahead
};

/// An assembly on the sheet, or the invisible frame of what stands outside all of them.
struct Frame {
  std::size_t assembly = site::none;
  int tier = 1;
  int ranks = 1;
};

/// The contracted site, or the part of it that goes on one sheet.
struct Plan {
  std::vector<Hub> hubs;
  std::vector<Chain> chains;  ///< in the order of the file
  std::vector<Frame> frames;
  std::vector<std::size_t> loose_elements;  ///< joined to nothing
  std::vector<std::size_t> loose_runs;      ///< fit no chain: drawn in a table
  std::size_t links = 0;                    ///< numbers given to references so far
  std::size_t sheet_digits = 2;             ///< room that references keep for a sheet's number
};

/// Contracts a site: every element and run is in just one hub, chain, branch or attachment, or in
/// one of the loose lists. Deterministic; the order of the file is kept.
Plan contract(const site::Site& site);

/// Gives tiers and ranks to frames and hubs, longest way from the sources. Chains that would lead
/// upwards are cut into a pair of references first. Keeps chains and their order otherwise.
void rank_plan(const site::Site& site, Plan& plan);

/// Gives tiers and ranks anew, after a plan was divided.
void rank_again(Plan& plan);

bool is_source(const Hub& hub);

/// Whether every hub is fed from one side at most: then no column has to cross another.
bool is_tree(const Plan& plan);

bool is_met(const site::Element& element);

/// Whether an element stands in series: two terminals, what enters one leaves by the other.
bool is_series(const site::Element& element);

}  // namespace linewright::diagram
