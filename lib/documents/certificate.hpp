// What the proof examined and what came of it, in words and as data.
#pragma once

#include <string>
#include <vector>

#include "network/proof.hpp"

namespace linewright::documents {

/// The certificate as text for people.
std::string certificate_text(const network::Network& network, const site::Site& site,
                             const network::Certificate& certificate);

/// The certificate in one line: "96 situations: 5 hazards impossible, 1 not relevant".
std::string certificate_line(const network::Certificate& certificate);

/// One failure and what it makes possible.
struct SingleFailure {
  network::SwitchAt stuck;
  network::Certificate certificate;
};

/// The certificate as JSON, with single failures if they were asked for.
std::string certificate_json(const network::Network& network, const site::Site& site,
                             const network::Certificate& certificate,
                             const std::vector<SingleFailure>* failures = nullptr);

/// What each single failure makes possible beyond what is possible without it, as text.
std::string failures_text(const network::Network& network, const site::Site& site,
                          const std::vector<SingleFailure>& failures);

}  // namespace linewright::documents
