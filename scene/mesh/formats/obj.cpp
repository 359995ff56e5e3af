#include "scene/mesh/formats/obj.hpp"

#include "scene/mesh/formats/polygon_soup.hpp"
#include "scene/mesh/formats/text_scan.hpp"

#include <fmt/format.h>
#include <tiny_obj_loader.h>

#include <cmath>
#include <istream>
#include <streambuf>
#include <utility>

namespace evenclose {
namespace {

/// The lines of a text, however they end.
std::string_view next_line(std::string_view& text) {
    const std::size_t end = text.find_first_of("\r\n");
    const std::string_view line = text.substr(0, end);
    if (end == text.npos) {
        text = {};
    } else {
        const bool both = text[end] == '\r' && end + 1 < text.size() && text[end + 1] == '\n';
        text.remove_prefix(end + (both ? 2 : 1));
    }
    return line;
}

struct Corners {
    std::vector<Vec3> at;
    std::optional<NotRead> fault;
};

/// Every "v x y z" of the file.
Corners read_corners(std::string_view text) {
    Corners corners;
    for (std::size_t line_number = 1; !text.empty(); ++line_number) {
        std::string_view line = next_line(text);
        while (line.starts_with(' ') || line.starts_with('\t')) {
            line.remove_prefix(1);
        }
        if (line.size() < 2 || line[0] != 'v' || (line[1] != ' ' && line[1] != '\t')) {
            continue;
        }
        TextScan scan(line.substr(1));
        Vec3 at{0.0};
        for (int axis = 0; axis < 3; ++axis) {
            const std::string_view word = scan.word();
            const std::optional<double> value = number_in(word);
            if (!value || !std::isfinite(*value)) {
                corners.fault = NotRead{
                    word.empty() ? fmt::format("line {}: a vertex needs three coordinates", line_number)
                                 : fmt::format("line {}: {} is no finite coordinate", line_number, shortened(word))};
                return corners;
            }
            at[axis] = *value;
        }
        corners.at.push_back(at);
    }
    return corners;
}

/// Lets a stream read from memory that is already there.
class MemoryBuffer : public std::streambuf {
public:
    explicit MemoryBuffer(std::string_view text) {
        char* begin = const_cast<char*>(text.data()); // std::streambuf knows no read-only memory; it is only read
        setg(begin, begin, begin + text.size());
    }
};

/// What the library tells, line by line.
struct Heard {
    PolygonSoup soup;         // corners as vertex numbers from 0; kMissing where there can be none
    std::size_t vertices = 0; // so far: a negative number counts back from here
    std::size_t left_out = 0; // faces of fewer than three corners
    std::vector<std::uint32_t> face;
};
constexpr std::uint32_t kMissing = 0xFFFFFFFFU;

void hear_vertex(void* heard, tinyobj::real_t, tinyobj::real_t, tinyobj::real_t, tinyobj::real_t) {
    ++static_cast<Heard*>(heard)->vertices;
}
void hear_face(void* user, tinyobj::index_t* indices, int count) {
    Heard& heard = *static_cast<Heard*>(user);
    if (count < 3) {
        ++heard.left_out;
        return;
    }
    heard.face.clear();
    for (int i = 0; i < count; ++i) {
        const std::int64_t written = indices[i].vertex_index; // from 1, or from -1 back, 0 for what is no number
        const std::int64_t number = written > 0 ? written - 1 : static_cast<std::int64_t>(heard.vertices) + written;
        heard.face.push_back(written == 0 || number < 0 ? kMissing : static_cast<std::uint32_t>(number));
    }
    heard.soup.add_face(heard.face);
}

} // namespace

RawResult read_obj(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) {
        text.remove_prefix(3);
    }
    Corners corners = read_corners(text);
    if (corners.fault) {
        return *corners.fault;
    }
    tinyobj::callback_t listener;
    listener.vertex_cb = hear_vertex;
    listener.index_cb = hear_face;
    Heard heard;
    std::string warnings, errors;
    MemoryBuffer buffer(text);
    std::istream stream(&buffer);
    if (!tinyobj::LoadObjWithCallback(stream, listener, &heard, nullptr, &warnings, &errors)) {
        return NotRead{"cannot be read: " + errors.substr(0, errors.find('\n'))};
    }
    if (heard.vertices != corners.at.size()) {
        return NotRead{fmt::format("has {} vertices of which only {} can be read", corners.at.size(), heard.vertices)};
    }
    heard.soup.vertices = std::move(corners.at);
    RawResult result = welded(heard.soup);
    if (auto* raw = std::get_if<RawMesh>(&result); raw != nullptr && heard.left_out > 0) {
        raw->notes.push_back(fmt::format("{} faces of fewer than three corners were not read", heard.left_out));
    }
    return result;
}

} // namespace evenclose
