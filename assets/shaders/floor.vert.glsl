// The floor at z = 0: a square round the press. `on_floor` is in mm from a point on the 500 mm grid.
uniform mat4 floor_to_eye;
uniform mat4 projection;
uniform vec2 middle;   // of the square, from that grid point, mm
uniform float reach;   // half its side, mm
out vec2 on_floor;
out vec2 unit;         // -1 to 1 over the square
void main() {
    unit = vec2((gl_VertexID & 1) == 0 ? -1.0 : 1.0, gl_VertexID < 2 ? -1.0 : 1.0);
    on_floor = middle + unit * reach;
    gl_Position = projection * (floor_to_eye * vec4(on_floor, 0.0, 1.0));
}
