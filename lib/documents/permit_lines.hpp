// What a drawing says for permit and connection papers besides its diagram, line by line.
#pragma once

#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "network/state_view.hpp"
#include "site/site.hpp"

namespace linewright::documents {

/// The subject that a line belongs to; lines of one subject stand under one heading.
enum class PermitSubject {
  supply,
  sources,
  protection,
  earthing,
  operation,
  signals,
  standards,
  on_site
};

/// One line, and the items of the permit checklist that it answers.
struct PermitLine {
  PermitSubject subject = PermitSubject::supply;
  std::vector<int> items;
  std::string words;
};

/// What the lines are made from; all of it outlives them.
struct PermitFacts {
  const site::Site& site;
  const network::Network& network;
  const std::vector<network::StateView>& states;
  const Report& report;
};

/// The lines by subject, in the order of the checklist within each; what the file does not say has
/// none. Those of `on_site` end in what has to be filled in by hand.
std::vector<PermitLine> permit_lines(const PermitFacts& facts);

/// "Supply and connection": the heading of a subject.
std::string heading(PermitSubject subject);

/// The first device after the supply that people switch: not the distributor's fuse. `none` if the
/// site has no such device.
std::size_t main_switch(const site::Site& site);

}  // namespace linewright::documents
