#include "viewer/render/marks.hpp"

#include "viewer/render/gpu_mesh.hpp"

#include <cmath>
#include <cstddef>
#include <vector>

namespace evenclose {
namespace {

struct LineItem {
    glm::vec3 from, to;
    glm::vec4 colour;
    float width_px = 1;
};
struct SpotItem {
    glm::vec3 at;
    glm::vec4 colour;
    float radius_px = 1;
};

void attribute(GLuint place, GLint numbers, std::size_t stride, std::size_t at) {
    glEnableVertexAttribArray(place);
    glVertexAttribPointer(place, numbers, GL_FLOAT, GL_FALSE, static_cast<GLsizei>(stride),
                          reinterpret_cast<const void*>(at)); // NOLINT: how OpenGL takes a place in a buffer
    glVertexAttribDivisor(place, 1);
}

bool finite(const Vec3& v) { return std::isfinite(v.x) && std::isfinite(v.y) && std::isfinite(v.z); }

template <class Item>
void draw_items(const GlVertexArray& array, const GlBuffer& buffer, const std::vector<Item>& items) {
    glBindVertexArray(array.get());
    glBindBuffer(GL_ARRAY_BUFFER, buffer.get());
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(items.size() * sizeof(Item)), items.data(), GL_STREAM_DRAW);
    glDrawArraysInstanced(GL_TRIANGLE_STRIP, 0, 4, static_cast<GLsizei>(items.size()));
}

} // namespace

Marks::Marks()
    : line_array_(make_vertex_array()), spot_array_(make_vertex_array()), line_buffer_(make_buffer()),
      spot_buffer_(make_buffer()) {
    glBindVertexArray(line_array_.get());
    glBindBuffer(GL_ARRAY_BUFFER, line_buffer_.get());
    attribute(0, 3, sizeof(LineItem), offsetof(LineItem, from));
    attribute(1, 3, sizeof(LineItem), offsetof(LineItem, to));
    attribute(2, 4, sizeof(LineItem), offsetof(LineItem, colour));
    attribute(3, 1, sizeof(LineItem), offsetof(LineItem, width_px));
    glBindVertexArray(spot_array_.get());
    glBindBuffer(GL_ARRAY_BUFFER, spot_buffer_.get());
    attribute(0, 3, sizeof(SpotItem), offsetof(SpotItem, at));
    attribute(1, 4, sizeof(SpotItem), offsetof(SpotItem, colour));
    attribute(2, 1, sizeof(SpotItem), offsetof(SpotItem, radius_px));
    glBindVertexArray(0);
}

void Marks::begin(const View& view, const Frame& frame, int width, int height) {
    view_ = &view;
    area_px_ = {static_cast<float>(width), static_cast<float>(height)};
    pixel_scale_ = frame.pixel_scale;
    for (const Program* program : {&line_, &spot_}) {
        program->use();
        program->set("projection", glm::mat4(view.projection));
        program->set("area_px", area_px_);
    }
    line_.use();
    line_.set("kept", frame.section ? view.kept_of(*frame.section) : glm::vec4(0, 0, 0, 1));
}

void Marks::edges(const GpuMesh& mesh, const glm::mat4& model_to_eye, const Colour& colour, float width_px) {
    line_.use();
    line_.set("model_to_eye", model_to_eye);
    glVertexAttrib4f(2, colour.red, colour.green, colour.blue, colour.alpha);
    glVertexAttrib1f(3, width_px * pixel_scale_);
    mesh.draw_edges();
}

void Marks::lines(std::span<const DrawnLine> lines, bool on_top) {
    std::vector<LineItem> items;
    for (const DrawnLine& line : lines) {
        if (line.on_top == on_top && finite(line.from_mm) && finite(line.to_mm)) {
            items.push_back({view_->from_origin(line.from_mm), view_->from_origin(line.to_mm), vec4_of(line.colour),
                             line.width_px * pixel_scale_});
        }
    }
    if (!items.empty()) {
        line_.use();
        line_.set("model_to_eye", view_->world_to_eye());
        draw_items(line_array_, line_buffer_, items);
    }
}

void Marks::spots(std::span<const DrawnSpot> spots) {
    std::vector<SpotItem> items;
    for (const DrawnSpot& spot : spots) {
        if (finite(spot.at_mm)) {
            items.push_back({view_->from_origin(spot.at_mm), vec4_of(spot.colour), spot.radius_px * pixel_scale_});
        }
    }
    if (!items.empty()) {
        spot_.use();
        spot_.set("model_to_eye", view_->world_to_eye());
        draw_items(spot_array_, spot_buffer_, items);
    }
}

} // namespace evenclose
