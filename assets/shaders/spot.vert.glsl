// A round mark of constant size on the screen; one instance a spot, four corners each.
layout(location = 0) in vec3 at;
layout(location = 1) in vec4 spot_colour;
layout(location = 2) in float spot_radius_px;

uniform mat4 model_to_eye;
uniform mat4 projection;
uniform vec2 area_px;

out vec4 colour;
out vec2 from_middle_px;
flat out float radius_px;

void main() {
    vec4 here = projection * (model_to_eye * vec4(at, 1.0));
    vec2 corner = vec2((gl_VertexID & 1) == 0 ? -1.0 : 1.0, gl_VertexID < 2 ? -1.0 : 1.0);
    radius_px = spot_radius_px;
    colour = spot_colour;
    from_middle_px = corner * (radius_px + 3.0);
    here.xy += from_middle_px * 2.0 / area_px * here.w;
    gl_Position = here;
}
