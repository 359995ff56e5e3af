// viewer/ui/body_labels.hpp: names of the bodies that can be seen, beside the press, each with a leader to its body.
#pragma once

#include "viewer/ui/panel.hpp"
#include "viewer/ui/picture_view.hpp"

#include <string>
#include <vector>

namespace evenclose {

class BodyLabels {
public:
    /// `taken`: what they must not cover. `fresh`: the picture was drawn anew and stands still: where each body is seen is
    /// found again; else the places of before are kept, so that labels follow while the press is turned.
    void draw(const Desk& desk, const Rect& picture, PictureView& view, const std::vector<Rect>& taken, bool fresh);
    void closed() { anchors_.clear(); }

private:
    struct Anchor {
        std::string name;
        Vec3 at_mm{0.0};
        float seen = 0; // share of what was tried that can be seen, times its size on the screen
    };
    void find(const App& app, PictureView& view);
    std::vector<Anchor> anchors_;
};

/// The name that the parts of one thing share: "left jack body" and "left jack screw" are "left jack".
[[nodiscard]] std::string shared_name(const Body& body);

} // namespace evenclose
