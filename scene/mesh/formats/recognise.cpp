#include "scene/mesh/formats/recognise.hpp"

#include "scene/mesh/formats/stl.hpp"

#include <fmt/format.h>

namespace evenclose {
namespace {

constexpr std::string_view kUtf8Mark = "\xEF\xBB\xBF";

std::string_view without_lead(std::string_view text) {
    if (text.starts_with(kUtf8Mark)) {
        text.remove_prefix(kUtf8Mark.size());
    }
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    return first == text.npos ? std::string_view{} : text.substr(first);
}

std::string lower(std::string_view text) {
    std::string result(text);
    for (char& c : result) {
        c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    }
    return result;
}

/// No control characters but tab and line ends.
bool is_text(std::string_view head) {
    for (const char c : head) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte < 0x20 && c != '\t' && c != '\r' && c != '\n' && c != '\f') {
            return false;
        }
    }
    return true;
}

/// The word OFF with the prefixes that the format knows (texture, colour, normals, 4 or n dimensions).
bool begins_as_off(std::string_view text) {
    for (const std::string_view prefix : {"ST", "C", "N", "4", "n"}) {
        if (text.starts_with(prefix)) {
            text.remove_prefix(prefix.size());
        }
    }
    return text.starts_with("OFF") && (text.size() == 3 || static_cast<unsigned char>(text[3]) <= ' ');
}

/// Some line is an element of an OBJ file.
bool has_obj_line(std::string_view text) {
    while (!text.empty()) {
        const std::size_t end = text.find_first_of("\r\n");
        const std::string_view line = without_lead(text.substr(0, end));
        for (const std::string_view word : {"v ", "v\t", "f ", "f\t", "vn ", "vt ", "mtllib ", "usemtl "}) {
            if (line.starts_with(word)) {
                return true;
            }
        }
        text = end == text.npos ? std::string_view{} : text.substr(end + 1);
    }
    return false;
}

} // namespace

Recognised recognise(std::string_view head, std::size_t file_size, std::string_view ending) {
    if (head.starts_with("glTF")) {
        return {MeshFormat::glb, {}};
    }
    if (head.starts_with("ply\n") || head.starts_with("ply\r")) {
        return {MeshFormat::ply, {}};
    }
    if (head.starts_with("PK\x03\x04")) {
        return {MeshFormat::three_mf, {}};
    }
    // A binary STL may begin with "solid" too, so its size is asked before its first word.
    if (is_whole_binary_stl(head, file_size)) {
        return {MeshFormat::stl_binary, {}};
    }
    const std::string_view text = without_lead(head);
    const bool readable = is_text(head);
    if (readable && lower(text.substr(0, 5)) == "solid") {
        const std::string words = lower(text);
        if (words.find("facet") != words.npos || words.find("endsolid") != words.npos) {
            return {MeshFormat::stl_text, {}};
        }
    }
    if (head.starts_with("\xFE\xFF") || head.starts_with("\xFF\xFE")) {
        return {MeshFormat::unknown, "it is text in UTF-16; save it as plain text or UTF-8"};
    }
    if (text.starts_with("ISO-10303-21")) {
        return {MeshFormat::step, {}};
    }
    if (text.starts_with('{') && readable && (ending == ".gltf" || head.find("\"asset\"") != head.npos)) {
        return {MeshFormat::gltf, {}};
    }
    if (begins_as_off(text)) {
        return {MeshFormat::off, {}};
    }
    if (ending == ".stl" && !readable) {
        return {MeshFormat::stl_binary, {}}; // cut short or with something after it: its reader says which
    }
    if (ending == ".obj" || (ending != ".stl" && readable && has_obj_line(text))) {
        return {MeshFormat::obj, {}};
    }
    if (ending == ".stl") {
        return {MeshFormat::unknown,
                "a text STL begins with \"solid\" and holds facets, a binary one has 84 bytes or more"};
    }
    return {};
}

} // namespace evenclose
