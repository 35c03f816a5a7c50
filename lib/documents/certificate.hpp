// What the proof examined and what came of it, in words and as data.
#pragma once

#include <string>

#include "network/proof.hpp"

namespace linewright::documents {

/// The certificate as text for people.
std::string certificate_text(const network::Network& network, const site::Site& site,
                             const network::Certificate& certificate);

/// The certificate as JSON.
std::string certificate_json(const network::Network& network, const site::Site& site,
                             const network::Certificate& certificate);

/// One failure and what it makes possible.
struct SingleFailure {
  network::SwitchAt stuck;
  network::Certificate certificate;
};

/// What each single failure makes possible beyond what is possible without it, as text.
std::string failures_text(const network::Network& network, const site::Site& site,
                          const std::vector<SingleFailure>& failures);

}  // namespace linewright::documents
