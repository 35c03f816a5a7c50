// Puts the named states of a site into pictures that the layout can draw.
#pragma once

#include <vector>

#include "check/analysed_site.hpp"
#include "diagram/picture.hpp"
#include "network/proof.hpp"

namespace linewright {

/// A picture of each named state, with the earth-fault loop of one circuit that is to stay alive;
/// then one of each hazard that can be reached, its way and what is moved for it marked.
diagram::PictureSet pictures_of(const check::AnalysedSite& analysed,
                                const std::vector<network::Refutation>& hazards);

}  // namespace linewright
