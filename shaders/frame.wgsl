// Shows one picture from its decoded planes.
//
// Every pixel of the screen is carried back to where it lies in the coded picture (which turns,
// mirrors, stretches, zooms and pans in one step), the planes are read there, and the matrix makes
// red, green and blue of them. What comes out is gamma-coded as video is and is written as it is:
// the surface is not an sRGB one.
//
// The planes are integer textures, because devices without optional features cannot filter 16-bit
// ones; one way of reading serves all depths, and filtering is done here.

struct Uniforms {
    // Coded x and y of a screen position: dot((x, y, 1), row).
    coded_x: vec4<f32>,
    coded_y: vec4<f32>,
    // Coded width and height; coded pixels to a screen pixel; 1 when pixels are shown as squares.
    size: vec4<f32>,
    // Factor and offset from coded pixels to chroma samples.
    chroma: vec4<f32>,
    // Red, green, blue: dot((Y, Cb, Cr, 1), row), samples scaled to 0..1 by `sample.x`.
    red: vec4<f32>,
    green: vec4<f32>,
    blue: vec4<f32>,
    // The ground beside the picture.
    ground: vec4<f32>,
    // 1 / highest sample value; number of planes; left and top of the widget on the screen.
    sample: vec4<f32>,
    // Curve: 0 an ordinary screen's, 1 hybrid log-gamma, 2 perceptual quantiser; 1 when the
    // primaries are those of BT.2020.
    tone: vec4<f32>,
}

@group(0) @binding(0) var<uniform> u: Uniforms;
@group(0) @binding(1) var plane_y: texture_2d<u32>;
@group(0) @binding(2) var plane_cb: texture_2d<u32>;
@group(0) @binding(3) var plane_cr: texture_2d<u32>;

@vertex
fn cover(@builtin(vertex_index) index: u32) -> @builtin(position) vec4<f32> {
    // One triangle that covers the whole viewport.
    let x = f32(i32(index & 1u) * 4 - 1);
    let y = f32(i32(index >> 1u) * 4 - 1);
    return vec4<f32>(x, y, 0.0, 1.0);
}

fn texel(plane: texture_2d<u32>, at: vec2<i32>) -> f32 {
    let last = vec2<i32>(textureDimensions(plane)) - vec2<i32>(1);
    return f32(textureLoad(plane, clamp(at, vec2<i32>(0), last), 0).r);
}

fn nearest(plane: texture_2d<u32>, at: vec2<f32>) -> f32 {
    return texel(plane, vec2<i32>(floor(at)));
}

fn bilinear(plane: texture_2d<u32>, at: vec2<f32>) -> f32 {
    let corner = floor(at - 0.5);
    let part = at - 0.5 - corner;
    let i = vec2<i32>(corner);
    let top = mix(texel(plane, i), texel(plane, i + vec2<i32>(1, 0)), part.x);
    let bottom = mix(texel(plane, i + vec2<i32>(0, 1)), texel(plane, i + vec2<i32>(1, 1)), part.x);
    return mix(top, bottom, part.y);
}

// The mean over the square of coded pixels that one screen pixel covers when the picture is shown
// smaller than it is; without it thin lines would come and go while panning.
fn mean(plane: texture_2d<u32>, at: vec2<f32>, span: f32) -> f32 {
    let taps = clamp(i32(ceil(span)), 2, 6);
    var sum = 0.0;
    for (var j = 0; j < taps; j++) {
        for (var i = 0; i < taps; i++) {
            let offset = (vec2<f32>(f32(i), f32(j)) + 0.5) / f32(taps) - 0.5;
            sum += nearest(plane, at + offset * span);
        }
    }
    return sum / f32(taps * taps);
}

fn read(plane: texture_2d<u32>, at: vec2<f32>, span: f32) -> f32 {
    if u.size.w > 0.5 {
        return nearest(plane, at);
    }
    if span > 1.05 {
        return mean(plane, at, span);
    }
    return bilinear(plane, at);
}

// The rest of this file's colour is the formula of `footage::tone`, which says where it is from.

fn hlg_scene(signal: f32) -> f32 {
    if signal <= 0.5 {
        return signal * signal / 3.0;
    }
    return (exp((signal - 0.5599107) / 0.17883277) + 0.28466892) / 12.0;
}

fn hlg_light(rgb: vec3<f32>) -> vec3<f32> {
    let scene = vec3<f32>(hlg_scene(rgb.r), hlg_scene(rgb.g), hlg_scene(rgb.b));
    let luminance = dot(scene, vec3<f32>(0.2627, 0.6780, 0.0593));
    return scene * 1000.0 * pow(max(luminance, 0.0), 0.2);
}

fn pq_light(signal: f32) -> f32 {
    let power = pow(min(signal, 1.0), 1.0 / 78.84375);
    let ratio = max(power - 0.8359375, 0.0) / (18.851563 - 18.6875 * power);
    return 10000.0 * pow(ratio, 1.0 / 0.15930176);
}

fn to_signal(light: f32) -> f32 {
    if light < 0.018 {
        return 0.75 * 4.5 * light;
    }
    if light <= 1.0 {
        return 0.75 * (1.099 * pow(light, 0.45) - 0.099);
    }
    let slope = 0.75 * 1.099 * 0.45;
    return 0.75 + 0.25 * (light - 1.0) / (light - 1.0 + 0.25 / slope);
}

fn toned(rgb: vec3<f32>) -> vec3<f32> {
    if u.tone.x < 0.5 {
        return rgb;
    }
    let signal = max(rgb, vec3<f32>(0.0));
    var light = vec3<f32>(pq_light(signal.r), pq_light(signal.g), pq_light(signal.b));
    if u.tone.x < 1.5 {
        light = hlg_light(signal);
    }
    light = light / 203.0;
    if u.tone.y > 0.5 {
        light = vec3<f32>(
            dot(light, vec3<f32>(1.660491, -0.58764114, -0.07284986)),
            dot(light, vec3<f32>(-0.12455047, 1.1328999, -0.00834942)),
            dot(light, vec3<f32>(-0.01815076, -0.1005789, 1.1187297)),
        );
    }
    light = max(light, vec3<f32>(0.0));
    return vec3<f32>(to_signal(light.r), to_signal(light.g), to_signal(light.b));
}

@fragment
fn show(@builtin(position) position: vec4<f32>) -> @location(0) vec4<f32> {
    let here = vec3<f32>(position.xy - u.sample.zw, 1.0);
    let coded = vec2<f32>(dot(here, u.coded_x.xyz), dot(here, u.coded_y.xyz));
    if any(coded < vec2<f32>(0.0)) || any(coded >= u.size.xy) {
        return u.ground;
    }
    // A grey picture has its chroma in the middle: half the code values, over the largest one.
    let middle = (1.0 / u.sample.x + 1.0) / 2.0 * u.sample.x;
    var ycc = vec4<f32>(read(plane_y, coded, u.size.z) * u.sample.x, middle, middle, 1.0);
    if u.sample.y > 1.5 {
        let at = coded * u.chroma.xy + u.chroma.zw;
        // Chroma is smooth by nature, so squares of it would only look wrong.
        ycc.y = bilinear(plane_cb, at) * u.sample.x;
        ycc.z = bilinear(plane_cr, at) * u.sample.x;
    }
    let rgb = vec3<f32>(dot(ycc, u.red), dot(ycc, u.green), dot(ycc, u.blue));
    return vec4<f32>(clamp(toned(rgb), vec3<f32>(0.0), vec3<f32>(1.0)), 1.0);
}
