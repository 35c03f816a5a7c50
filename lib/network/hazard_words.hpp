// Hazards, interlocks and ways to a hazard in plain words.
#pragma once

#include <string>

#include "network/proof.hpp"

namespace linewright::network {

/// The kind of hazard: "two sources joined out of step".
std::string words_of(HazardKind kind);

/// What a hazard is about: "-G2 and the supply", "Kitchen, fed by -T1".
std::string subject_words(const site::Site& site, const Hazard& hazard);

/// "'grid', then close -Q5 and start -G2"; "'island'" where nothing has to be done.
std::string way_words(const Network& network, const site::Site& site, const Refutation& refutation);

/// Why nothing is impossible on a site with this element: "voltage passes -TR1 both ways, and …".
std::string not_followed_words(const site::Site& site, std::size_t element);

/// An interlock by what it keeps apart: "mechanical: -Q1 closed, -Q2 closed".
std::string interlock_words(const site::Site& site, std::size_t interlock);

/// "1,536", "about 2.1×10^19" where the exact number is too long, "fewer than …" where it is a
/// bound.
std::string words_of(const Count& count);

}  // namespace linewright::network
