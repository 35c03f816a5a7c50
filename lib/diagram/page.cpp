#include "diagram/page.hpp"

namespace linewright::diagram {

Page page_of(const site::Site& site, const Paper& paper) {
  return {
      .frame = paper.frame, .title_left = paper.title_left(), .title_top = title_top(site, paper)};
}

}  // namespace linewright::diagram
