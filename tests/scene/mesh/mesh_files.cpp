#include "tests/scene/mesh/mesh_files.hpp"

#include <fmt/format.h>

namespace evenclose::test {

std::string binary_stl(const TriangleMesh& mesh, std::string_view header) {
    std::string bytes(header.substr(0, 80));
    bytes.resize(80, '\0');
    put(bytes, static_cast<std::uint32_t>(mesh.triangles.size()));
    for (const auto& t : mesh.triangles) {
        for (int i = 0; i < 3; ++i) {
            put(bytes, 0.0F);
        }
        for (const auto corner : t) {
            for (int axis = 0; axis < 3; ++axis) {
                put(bytes, static_cast<float>(mesh.vertices_mm[corner][axis]));
            }
        }
        put(bytes, std::uint16_t{0});
    }
    return bytes;
}

std::string text_stl(const TriangleMesh& mesh, std::string_view name) {
    std::string text = fmt::format("solid {}\n", name);
    for (const auto& t : mesh.triangles) {
        text += "  facet normal 0 0 0\n    outer loop\n";
        for (const auto corner : t) {
            const Vec3& v = mesh.vertices_mm[corner];
            text += fmt::format("      vertex {} {} {}\n", v.x, v.y, v.z);
        }
        text += "    endloop\n  endfacet\n";
    }
    return text + fmt::format("endsolid {}\n", name);
}

std::string obj(const TriangleMesh& mesh) {
    std::string text = "# made by a test\no half\n";
    for (const Vec3& v : mesh.vertices_mm) {
        text += fmt::format("v {} {} {}\n", v.x, v.y, v.z);
    }
    for (const auto& t : mesh.triangles) {
        text += fmt::format("f {} {} {}\n", t[0] + 1, t[1] + 1, t[2] + 1);
    }
    return text;
}

std::string ply(const TriangleMesh& mesh, bool binary) {
    std::string text =
        fmt::format("ply\nformat {} 1.0\nelement vertex {}\nproperty float x\nproperty float y\n"
                    "property float z\nelement face {}\nproperty list uchar int vertex_indices\nend_header\n",
                    binary ? "binary_little_endian" : "ascii", mesh.vertices_mm.size(), mesh.triangles.size());
    for (const Vec3& v : mesh.vertices_mm) {
        if (binary) {
            for (int axis = 0; axis < 3; ++axis) {
                put(text, static_cast<float>(v[axis]));
            }
        } else {
            text += fmt::format("{} {} {}\n", v.x, v.y, v.z);
        }
    }
    for (const auto& t : mesh.triangles) {
        if (binary) {
            put(text, std::uint8_t{3});
            for (const auto corner : t) {
                put(text, static_cast<std::int32_t>(corner));
            }
        } else {
            text += fmt::format("3 {} {} {}\n", t[0], t[1], t[2]);
        }
    }
    return text;
}

std::string off(const TriangleMesh& mesh) {
    std::string text = fmt::format("OFF\n{} {} 0\n", mesh.vertices_mm.size(), mesh.triangles.size());
    for (const Vec3& v : mesh.vertices_mm) {
        text += fmt::format("{} {} {}\n", v.x, v.y, v.z);
    }
    for (const auto& t : mesh.triangles) {
        text += fmt::format("3 {} {} {}\n", t[0], t[1], t[2]);
    }
    return text;
}

std::string gltf_buffer(const TriangleMesh& mesh) {
    std::string bytes;
    for (const Vec3& v : mesh.vertices_mm) {
        for (int axis = 0; axis < 3; ++axis) {
            put(bytes, static_cast<float>(v[axis]));
        }
    }
    for (const auto& t : mesh.triangles) {
        for (const auto corner : t) {
            put(bytes, corner);
        }
    }
    return bytes;
}
std::string gltf_json(const TriangleMesh& mesh, std::string_view nodes, std::string_view buffer_uri) {
    const Box box = bounds_of(mesh);
    const std::size_t vertex_bytes = 12 * mesh.vertices_mm.size(), corner_bytes = 12 * mesh.triangles.size();
    const std::string uri = buffer_uri.empty() ? "" : fmt::format("\"uri\":\"{}\",", buffer_uri);
    return fmt::format(
        R"({{"asset":{{"version":"2.0"}},"scene":0,"scenes":[{{"nodes":[0]}}],"nodes":{},)"
        R"("meshes":[{{"primitives":[{{"attributes":{{"POSITION":0}},"indices":1}}]}}],)"
        R"("buffers":[{{{}"byteLength":{}}}],)"
        R"("bufferViews":[{{"buffer":0,"byteOffset":0,"byteLength":{}}},{{"buffer":0,"byteOffset":{},"byteLength":{}}}],)"
        R"("accessors":[{{"bufferView":0,"componentType":5126,"count":{},"type":"VEC3","min":[{},{},{}],"max":[{},{},{}]}},)"
        R"({{"bufferView":1,"componentType":5125,"count":{},"type":"SCALAR"}}]}})",
        nodes, uri, vertex_bytes + corner_bytes, vertex_bytes, vertex_bytes, corner_bytes, mesh.vertices_mm.size(),
        box.low_mm.x, box.low_mm.y, box.low_mm.z, box.high_mm.x, box.high_mm.y, box.high_mm.z,
        3 * mesh.triangles.size());
}
std::string glb(const TriangleMesh& mesh, std::string_view nodes) {
    std::string json = gltf_json(mesh, nodes, "");
    json.resize((json.size() + 3) / 4 * 4, ' ');
    const std::string buffer = gltf_buffer(mesh);
    std::string bytes = "glTF";
    put(bytes, std::uint32_t{2});
    put(bytes, static_cast<std::uint32_t>(12 + 8 + json.size() + 8 + buffer.size()));
    put(bytes, static_cast<std::uint32_t>(json.size()));
    bytes += "JSON";
    bytes += json;
    put(bytes, static_cast<std::uint32_t>(buffer.size()));
    bytes += std::string_view("BIN\0", 4);
    return bytes + buffer;
}

std::string stored_zip(const std::vector<std::pair<std::string, std::string>>& parts) {
    const auto crc = [](std::string_view data) {
        std::uint32_t c = 0xFFFFFFFFU;
        for (const char byte : data) {
            c ^= static_cast<unsigned char>(byte);
            for (int k = 0; k < 8; ++k) {
                c = (c & 1U) != 0 ? 0xEDB88320U ^ (c >> 1U) : c >> 1U;
            }
        }
        return ~c;
    };
    std::string bytes, directory;
    for (const auto& [name, data] : parts) {
        const auto at = static_cast<std::uint32_t>(bytes.size());
        std::string common;
        for (const unsigned field : {20U, 0U, 0U, 0U, 0x21U}) { // version, flags, method, time, date
            put(common, static_cast<std::uint16_t>(field));
        }
        put(common, crc(data));
        put(common, static_cast<std::uint32_t>(data.size()));
        put(common, static_cast<std::uint32_t>(data.size()));
        put(common, static_cast<std::uint16_t>(name.size()));
        put(common, std::uint16_t{0});
        bytes += "PK\x03\x04";
        bytes += common + name + data;
        directory += "PK\x01\x02";
        put(directory, std::uint16_t{20});
        directory += common;
        for (int i = 0; i < 3; ++i) { // comment, disk, inside
            put(directory, std::uint16_t{0});
        }
        put(directory, std::uint32_t{0});
        put(directory, at);
        directory += name;
    }
    const auto start = static_cast<std::uint32_t>(bytes.size());
    bytes += directory + "PK\x05\x06";
    put(bytes, std::uint32_t{0});
    for (int i = 0; i < 2; ++i) {
        put(bytes, static_cast<std::uint16_t>(parts.size()));
    }
    put(bytes, static_cast<std::uint32_t>(directory.size()));
    put(bytes, start);
    put(bytes, std::uint16_t{0});
    return bytes;
}

std::string three_mf_mesh(const TriangleMesh& mesh) {
    std::string xml = "<mesh><vertices>";
    for (const Vec3& v : mesh.vertices_mm) {
        xml += fmt::format("<vertex x=\"{}\" y=\"{}\" z=\"{}\"/>", v.x, v.y, v.z);
    }
    xml += "</vertices><triangles>";
    for (const auto& t : mesh.triangles) {
        xml += fmt::format("<triangle v1=\"{}\" v2=\"{}\" v3=\"{}\"/>", t[0], t[1], t[2]);
    }
    return xml + "</triangles></mesh>";
}
std::string three_mf(std::string_view model_attributes, std::string_view objects, std::string_view items) {
    return stored_zip({
        {"[Content_Types].xml",
         R"(<?xml version="1.0" encoding="UTF-8"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>)"},
        {"_rels/.rels",
         R"(<?xml version="1.0" encoding="UTF-8"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>)"},
        {"3D/3dmodel.model",
         fmt::format(
             R"(<?xml version="1.0" encoding="UTF-8"?><!-- a comment with <model unit="foot"> in it --><model {} xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources>{}</resources><build>{}</build></model>)",
             model_attributes, objects, items)},
    });
}

} // namespace evenclose::test
