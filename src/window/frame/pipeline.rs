//! Draws a picture on the graphics card: uploads its planes when they change and lets
//! `frame.wgsl` do the rest.

use std::{collections::HashMap, fmt, sync::Arc};

use bytemuck::{Pod, Zeroable};
use iced::{
    Rectangle,
    wgpu::{self, util::DeviceExt},
    widget::shader::{self, Viewport as Screen},
};

use super::{
    colour,
    placing::Affine,
    viewport::{Room, Scale, Viewport},
};
use crate::{footage::Picture, units::Upright, window::theme};

/// One picture as one widget wants it drawn.
pub struct Drawn {
    /// Which widget; every widget has textures of its own.
    pub surface: u64,
    /// The picture.
    pub picture: Arc<Picture>,
    /// How it stands upright.
    pub upright: Upright,
    /// Zoom and pan.
    pub viewport: Viewport,
}

impl fmt::Debug for Drawn {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "picture {} on surface {}", self.picture.index(), self.surface)
    }
}

/// From so many physical pixels to a coded one on, pixels are shown as the squares they are.
const SQUARES_FROM: f64 = 6.0;
/// A surface not drawn for so many frames of any window is let go.
const FRAMES_KEPT: u32 = 240;
/// The largest texture side that iced's device takes.
const LARGEST_SIDE: u32 = 8192;

/// What is kept on the graphics card.
pub struct Pipeline {
    pipeline: wgpu::RenderPipeline,
    layout: wgpu::BindGroupLayout,
    surfaces: HashMap<u64, Surface>,
}

struct Surface {
    /// The picture whose planes are uploaded; kept, so that its address cannot be another's.
    picture: Arc<Picture>,
    planes: Vec<wgpu::Texture>,
    uniforms: wgpu::Buffer,
    bind_group: wgpu::BindGroup,
    unused_for: u32,
}

#[repr(C)]
#[derive(Clone, Copy, Debug, Pod, Zeroable)]
struct Uniforms {
    coded_x: [f32; 4],
    coded_y: [f32; 4],
    size: [f32; 4],
    chroma: [f32; 4],
    rgb: [[f32; 4]; 3],
    ground: [f32; 4],
    sample: [f32; 4],
}

impl shader::Primitive for Drawn {
    type Pipeline = Pipeline;

    fn prepare(
        &self,
        pipeline: &mut Pipeline,
        device: &wgpu::Device,
        queue: &wgpu::Queue,
        bounds: &Rectangle,
        screen: &Screen,
    ) {
        let layout = self.picture.layout();
        if layout.width.max(layout.height) > LARGEST_SIDE {
            return;
        }
        let surface = pipeline.surface(self, device);
        if !Arc::ptr_eq(&surface.picture, &self.picture) || surface.unused_for == u32::MAX {
            surface.picture = Arc::clone(&self.picture);
            upload(&surface.planes, &self.picture, queue);
        }
        surface.unused_for = 0;
        let uniforms = self.uniforms(*bounds, f64::from(screen.scale_factor()));
        queue.write_buffer(&surface.uniforms, 0, bytemuck::bytes_of(&uniforms));
    }

    fn draw(&self, pipeline: &Pipeline, pass: &mut wgpu::RenderPass<'_>) -> bool {
        if let Some(surface) = pipeline.surfaces.get(&self.surface) {
            pass.set_pipeline(&pipeline.pipeline);
            pass.set_bind_group(0, &surface.bind_group, &[]);
            pass.draw(0..3, 0..1);
        }
        true
    }
}

impl Drawn {
    fn uniforms(&self, bounds: Rectangle, density: f64) -> Uniforms {
        let [w, h] = self.upright.shown_size();
        let room = Room {
            picture: [f64::from(w), f64::from(h)],
            room: [f64::from(bounds.width), f64::from(bounds.height)],
        };
        let placement = self.viewport.placement(room);
        let affine = Affine::to_coded(&self.upright, placement, density);
        let row = |[a, b, c]: [f64; 3]| [a as f32, b as f32, c as f32, 0.0];
        let layout = self.picture.layout();
        let span = affine.span();
        let squares =
            self.viewport.scale() != Scale::Fit && span * SQUARES_FROM <= 1.0;
        let ground = theme::STAGE;
        Uniforms {
            coded_x: row(affine.x),
            coded_y: row(affine.y),
            size: [
                layout.width as f32,
                layout.height as f32,
                span as f32,
                if squares { 1.0 } else { 0.0 },
            ],
            chroma: colour::siting(&layout),
            rgb: colour::rows(&layout, self.picture.colour()),
            ground: [ground.r, ground.g, ground.b, 1.0],
            sample: [
                1.0 / colour::peak(&layout) as f32,
                layout.planes as f32,
                bounds.x * density as f32,
                bounds.y * density as f32,
            ],
        }
    }
}

impl shader::Pipeline for Pipeline {
    fn new(device: &wgpu::Device, _: &wgpu::Queue, format: wgpu::TextureFormat) -> Self {
        let layout = bind_group_layout(device);
        Self { pipeline: render_pipeline(device, &layout, format), layout, surfaces: HashMap::new() }
    }

    fn trim(&mut self) {
        // Every frame of every window comes here, so only age tells what is not used any more.
        self.surfaces.retain(|_, surface| {
            surface.unused_for = surface.unused_for.saturating_add(1);
            surface.unused_for < FRAMES_KEPT
        });
    }
}

impl Pipeline {
    /// Returns the surface of a widget, made anew when its picture has another size or depth.
    fn surface(&mut self, drawn: &Drawn, device: &wgpu::Device) -> &mut Surface {
        let layout = drawn.picture.layout();
        let fits = self
            .surfaces
            .get(&drawn.surface)
            .is_some_and(|surface| surface.picture.layout() == layout);
        if !fits {
            let surface = Surface::new(&self.layout, &drawn.picture, device);
            self.surfaces.insert(drawn.surface, surface);
        }
        self.surfaces
            .entry(drawn.surface)
            .or_insert_with(|| Surface::new(&self.layout, &drawn.picture, device))
    }
}

impl Surface {
    fn new(
        layout: &wgpu::BindGroupLayout,
        picture: &Arc<Picture>,
        device: &wgpu::Device,
    ) -> Self {
        let planes: Vec<_> = (0..picture.layout().planes)
            .map(|plane| texture(device, picture, plane))
            .collect();
        let uniforms = device.create_buffer(&wgpu::BufferDescriptor {
            label: Some("frame uniforms"),
            size: size_of::<Uniforms>() as u64,
            usage: wgpu::BufferUsages::UNIFORM | wgpu::BufferUsages::COPY_DST,
            mapped_at_creation: false,
        });
        let bind_group = bind_group(device, layout, &uniforms, &planes);
        Self { picture: Arc::clone(picture), planes, uniforms, bind_group, unused_for: u32::MAX }
    }
}

fn texture(device: &wgpu::Device, picture: &Picture, plane: usize) -> wgpu::Texture {
    let plane = picture.plane(plane);
    device.create_texture(&wgpu::TextureDescriptor {
        label: Some("frame plane"),
        size: extent(plane.width, plane.height),
        mip_level_count: 1,
        sample_count: 1,
        dimension: wgpu::TextureDimension::D2,
        format: if picture.layout().bits > 8 {
            wgpu::TextureFormat::R16Uint
        } else {
            wgpu::TextureFormat::R8Uint
        },
        usage: wgpu::TextureUsages::TEXTURE_BINDING | wgpu::TextureUsages::COPY_DST,
        view_formats: &[],
    })
}

const fn extent(width: u32, height: u32) -> wgpu::Extent3d {
    wgpu::Extent3d { width, height, depth_or_array_layers: 1 }
}

fn upload(textures: &[wgpu::Texture], picture: &Picture, queue: &wgpu::Queue) {
    for (index, texture) in textures.iter().enumerate() {
        let plane = picture.plane(index);
        queue.write_texture(
            texture.as_image_copy(),
            plane.bytes,
            wgpu::TexelCopyBufferLayout {
                offset: 0,
                bytes_per_row: Some(plane.stride as u32),
                rows_per_image: None,
            },
            extent(plane.width, plane.height),
        );
    }
}

fn bind_group_layout(device: &wgpu::Device) -> wgpu::BindGroupLayout {
    let uniforms = wgpu::BindGroupLayoutEntry {
        binding: 0,
        visibility: wgpu::ShaderStages::FRAGMENT,
        ty: wgpu::BindingType::Buffer {
            ty: wgpu::BufferBindingType::Uniform,
            has_dynamic_offset: false,
            min_binding_size: None,
        },
        count: None,
    };
    let plane = |binding| wgpu::BindGroupLayoutEntry {
        binding,
        visibility: wgpu::ShaderStages::FRAGMENT,
        ty: wgpu::BindingType::Texture {
            sample_type: wgpu::TextureSampleType::Uint,
            view_dimension: wgpu::TextureViewDimension::D2,
            multisampled: false,
        },
        count: None,
    };
    device.create_bind_group_layout(&wgpu::BindGroupLayoutDescriptor {
        label: Some("frame"),
        entries: &[uniforms, plane(1), plane(2), plane(3)],
    })
}

fn bind_group(
    device: &wgpu::Device,
    layout: &wgpu::BindGroupLayout,
    uniforms: &wgpu::Buffer,
    planes: &[wgpu::Texture],
) -> wgpu::BindGroup {
    let view = |plane: &wgpu::Texture| plane.create_view(&wgpu::TextureViewDescriptor::default());
    let views: Vec<wgpu::TextureView> = planes.iter().map(view).collect();
    // A grey picture binds its one plane three times; the shader does not read the other two.
    let texture = |binding: usize| wgpu::BindGroupEntry {
        binding: binding as u32,
        resource: wgpu::BindingResource::TextureView(
            views.get(binding - 1).unwrap_or(&views[0]),
        ),
    };
    device.create_bind_group(&wgpu::BindGroupDescriptor {
        label: Some("frame"),
        layout,
        entries: &[
            wgpu::BindGroupEntry { binding: 0, resource: uniforms.as_entire_binding() },
            texture(1),
            texture(2),
            texture(3),
        ],
    })
}

fn render_pipeline(
    device: &wgpu::Device,
    layout: &wgpu::BindGroupLayout,
    format: wgpu::TextureFormat,
) -> wgpu::RenderPipeline {
    let module = device.create_shader_module(wgpu::ShaderModuleDescriptor {
        label: Some("frame"),
        source: wgpu::ShaderSource::Wgsl(include_str!("../../../shaders/frame.wgsl").into()),
    });
    let layout = device.create_pipeline_layout(&wgpu::PipelineLayoutDescriptor {
        label: Some("frame"),
        bind_group_layouts: &[layout],
        push_constant_ranges: &[],
    });
    device.create_render_pipeline(&wgpu::RenderPipelineDescriptor {
        label: Some("frame"),
        layout: Some(&layout),
        vertex: wgpu::VertexState {
            module: &module,
            entry_point: Some("cover"),
            compilation_options: wgpu::PipelineCompilationOptions::default(),
            buffers: &[],
        },
        primitive: wgpu::PrimitiveState::default(),
        depth_stencil: None,
        multisample: wgpu::MultisampleState::default(),
        fragment: Some(wgpu::FragmentState {
            module: &module,
            entry_point: Some("show"),
            compilation_options: wgpu::PipelineCompilationOptions::default(),
            targets: &[Some(format.into())],
        }),
        multiview: None,
        cache: None,
    })
}
