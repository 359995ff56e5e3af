// viewer/ui/body_labels.hpp: names of the bodies that can be seen, beside the press, each with a leader to its body.
#pragma once

#include "viewer/render/name_anchors.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/picture_view.hpp"

#include <vector>

namespace evenclose {

class BodyLabels {
public:
    /// `taken`: what they must not cover. `fresh`: the picture was drawn anew and stands still: where each body is seen is
    /// found again; else the places of before are kept, so that labels follow while the press is turned.
    void draw(const Desk& desk, const Rect& picture, PictureView& view, const std::vector<Rect>& taken, bool fresh);
    void closed() { anchors_.clear(); }

private:
    std::vector<NameAnchor> anchors_;
};

} // namespace evenclose
