#include "scene/mesh/formats/off.hpp"

#include "scene/mesh/formats/polygon_soup.hpp"
#include "scene/mesh/formats/text_scan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

class OffText {
public:
    explicit OffText(std::string_view text) : scan_(text) {}

    RawResult read() {
        const std::string_view head = word();
        if (head.starts_with("4") || head.starts_with("n") || head.find('n') != head.npos ||
            head.find('4') != head.npos) {
            return NotRead{"is an OFF in more than three dimensions"};
        }
        const bool plain = head == "OFF"; // else each vertex has more numbers on its line
        std::size_t counts[3] = {};
        for (std::size_t& count : counts) {
            const std::string_view written = word();
            if (written == "BINARY") {
                return NotRead{"is a binary OFF; save it as text"};
            }
            const auto value = whole_number(written);
            if (!value) {
                return missing("a count of vertices, faces or edges", written);
            }
            count = *value;
        }
        PolygonSoup soup;
        const std::size_t plausible = scan_.left() / 4; // no more than the file can hold, whatever it promises
        soup.vertices.reserve(std::min(counts[0], plausible));
        for (std::size_t i = 0; i < counts[0]; ++i) {
            Vec3 at{0.0};
            for (int axis = 0; axis < 3; ++axis) {
                const std::string_view written = word();
                const auto value = number_in(written);
                if (written.empty()) {
                    return NotRead{fmt::format("is cut short: it promises {} vertices and holds {}", counts[0], i)};
                }
                if (!value || !std::isfinite(*value)) {
                    return missing(fmt::format("a finite coordinate of vertex {}", i + 1), written);
                }
                at[axis] = *value;
            }
            if (!plain) {
                scan_.skip_line();
            }
            soup.vertices.push_back(at);
        }
        std::vector<std::uint32_t> face;
        for (std::size_t i = 0; i < counts[1]; ++i) {
            const std::string_view written = word();
            const auto size = whole_number(written);
            if (written.empty()) {
                return cut_short(counts[1], i);
            }
            if (!size) {
                return missing(fmt::format("the number of corners of face {}", i + 1), written);
            }
            face.clear();
            for (std::size_t k = 0; k < *size; ++k) {
                const std::string_view corner = word();
                const auto number = whole_number(corner);
                if (corner.empty()) {
                    return cut_short(counts[1], i);
                }
                if (!number || *number >= counts[0]) {
                    return missing(fmt::format("a vertex of face {} (there are {})", i + 1, counts[0]), corner);
                }
                face.push_back(static_cast<std::uint32_t>(*number));
            }
            scan_.skip_line(); // its colour
            if (face.size() >= 3) {
                soup.add_face(face);
            } else {
                ++left_out_;
            }
        }
        RawResult result = welded(soup);
        if (auto* raw = std::get_if<RawMesh>(&result); raw != nullptr && left_out_ > 0) {
            raw->notes.push_back(fmt::format("{} faces of fewer than three corners were not read", left_out_));
        }
        return result;
    }

private:
    /// The next word that is not in a comment.
    std::string_view word() {
        std::string_view next = scan_.word();
        while (next.starts_with('#')) {
            scan_.skip_line();
            next = scan_.word();
        }
        return next;
    }
    static std::optional<std::size_t> whole_number(std::string_view text) {
        std::size_t value = 0;
        const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
        return error == std::errc{} && end == text.data() + text.size() ? std::optional(value) : std::nullopt;
    }
    [[nodiscard]] NotRead missing(const std::string& wanted, std::string_view found) const {
        return {found.empty() ? fmt::format("is cut short: it ends where {} should be", wanted)
                              : fmt::format("line {}: {} where {} should be", scan_.line(), shortened(found), wanted)};
    }
    static NotRead cut_short(std::size_t promised, std::size_t held) {
        return {fmt::format("is cut short: it promises {} faces and holds {}", promised, held)};
    }

    TextScan scan_;
    std::size_t left_out_ = 0;
};

} // namespace

RawResult read_off(std::string_view text) { return OffText(text).read(); }

} // namespace evenclose
