// The face of a section: a square in the plane, where the stencil lets it through. All in the eye's frame, mm.
uniform vec3 middle, u, v, normal;
uniform float half_size;
uniform mat4 projection;
out vec3 eye_position;
out vec3 eye_normal;
out vec4 surface_tint;
void main() {
    vec2 corner = vec2((gl_VertexID & 1) == 0 ? -1.0 : 1.0, gl_VertexID < 2 ? -1.0 : 1.0) * half_size;
    eye_position = middle + corner.x * u + corner.y * v;
    eye_normal = normal;
    surface_tint = vec4(0.0);
    gl_Position = projection * vec4(eye_position, 1.0);
}
