// viewer/ui/loupe.hpp: a round inset over the picture that stays on the worst spot of the map, or on the spot of the finding
// that is chosen, with its number.
#pragma once

#include "viewer/render/map_spot.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/picture_view.hpp"

#include <memory>
#include <optional>
#include <string>

namespace evenclose {

/// Which map the loupe looks at: the one that is shown, or the one that the chosen finding is about; none: no loupe.
[[nodiscard]] MapKind loupe_map(const App& app);

class Loupe {
public:
    /// Draws into `picture`'s upper right corner. `view` renders it, beside the picture itself.
    void draw(const Desk& desk, const Rect& picture, PictureView& view);

private:
    /// All that decides what is seen in it.
    struct Key {
        std::shared_ptr<const CheckResults> results;
        MapKind kind = MapKind::none;
        std::size_t opening = 0;
        UnitSystem units = UnitSystem::metric;
        std::optional<Vec3> finding_at;
        Travel travel;
        int size = 0;
        Theme theme = Theme::light;
        bool operator==(const Key&) const = default;
    };
    void look(const App& app, const Key& key, float scale, PictureView& view);

    std::optional<Key> key_;
    std::optional<MapSpot> spot_;
    Vec3 at_mm_{0.0}; // world
};

} // namespace evenclose
