//! Draws a picture on the graphics card: uploads its planes when they change and lets
//! `frame.wgsl` do the rest.

use std::{collections::HashMap, fmt, sync::Arc};

use bytemuck::{Pod, Zeroable};
use iced::{
    Rectangle, wgpu,
    widget::shader::{self, Viewport as Screen},
};

use crate::{
    footage::Picture,
    units::Orientation,
    window::{
        theme,
        viewer::viewport::{Room, Scale, Viewport},
    },
};

use super::{
    placing::Affine,
    source::{self, Plane, Reading},
};

/// One picture as one widget wants it drawn.
pub(crate) struct Drawn {
    /// Which widget; every widget has textures of its own.
    pub surface: u64,
    /// The picture.
    pub picture: Arc<Picture>,
    /// How it is turned, where a person turned it otherwise than its file says.
    pub turn: Option<Orientation>,
    /// Zoom and pan.
    pub viewport: Viewport,
}

impl fmt::Debug for Drawn {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "picture {} on surface {}", self.picture.frame, self.surface)
    }
}

/// From so many physical pixels to a coded one on, pixels are shown as the squares they are.
const SQUARES_FROM: f64 = 6.0;
/// A surface not drawn for so many frames of any window is let go.
const FRAMES_KEPT: u32 = 240;
/// The largest texture side that iced's device takes.
const LARGEST_SIDE: u32 = 8192;

/// What is kept on the graphics card.
pub(crate) struct Pipeline {
    render: wgpu::RenderPipeline,
    layout: wgpu::BindGroupLayout,
    surfaces: HashMap<u64, Surface>,
}

struct Surface {
    /// The picture whose planes are uploaded; kept, so that its address cannot be another's.
    picture: Arc<Picture>,
    reading: Reading,
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
    tone: [f32; 4],
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
        let reading = Reading::of(&self.picture, self.turn);
        if reading.upright.coded_width.max(reading.upright.coded_height) > LARGEST_SIDE {
            return;
        }
        let surface = pipeline.surface(self, reading, device, queue);
        surface.unused_for = 0;
        let uniforms = self.uniforms(&reading, *bounds, f64::from(screen.scale_factor()));
        queue.write_buffer(&surface.uniforms, 0, bytemuck::bytes_of(&uniforms));
    }

    fn draw(&self, pipeline: &Pipeline, pass: &mut wgpu::RenderPass<'_>) -> bool {
        if let Some(surface) = pipeline.surfaces.get(&self.surface) {
            pass.set_pipeline(&pipeline.render);
            pass.set_bind_group(0, &surface.bind_group, &[]);
            pass.draw(0..3, 0..1);
        }
        true
    }
}

impl Drawn {
    fn uniforms(&self, reading: &Reading, bounds: Rectangle, density: f64) -> Uniforms {
        let room = Room {
            picture: reading.upright.shown_size().map(f64::from),
            room: [f64::from(bounds.width), f64::from(bounds.height)],
        };
        let placement = self.viewport.placement(room);
        let affine = Affine::to_coded(&reading.upright, placement, density);
        let row = |[a, b, c]: [f64; 3]| [a as f32, b as f32, c as f32, 0.0];
        let span = affine.span();
        let squares = self.viewport.scale() != Scale::Fit && span * SQUARES_FROM <= 1.0;
        let ground = theme::STAGE;
        Uniforms {
            coded_x: row(affine.x),
            coded_y: row(affine.y),
            size: [
                reading.upright.coded_width as f32,
                reading.upright.coded_height as f32,
                span as f32,
                f32::from(u8::from(squares)),
            ],
            chroma: reading.chroma,
            rgb: reading.rows,
            ground: [ground.r, ground.g, ground.b, 1.0],
            sample: [
                1.0 / reading.largest,
                reading.count as f32,
                bounds.x * density as f32,
                bounds.y * density as f32,
            ],
            tone: [reading.tone[0], reading.tone[1], 0.0, 0.0],
        }
    }
}

impl shader::Pipeline for Pipeline {
    fn new(device: &wgpu::Device, _: &wgpu::Queue, format: wgpu::TextureFormat) -> Self {
        let layout = bind_group_layout(device);
        Self { render: render_pipeline(device, &layout, format), layout, surfaces: HashMap::new() }
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
    /// Returns the surface of a widget with the picture on it; made anew when the picture has
    /// another size or depth, uploaded only when it is another picture.
    fn surface(
        &mut self,
        drawn: &Drawn,
        reading: Reading,
        device: &wgpu::Device,
        queue: &wgpu::Queue,
    ) -> &mut Surface {
        let kept = self.surfaces.remove(&drawn.surface).filter(|it| it.reading.fits(&reading));
        let surface = match kept {
            Some(surface) if Arc::ptr_eq(&surface.picture, &drawn.picture) => surface,
            Some(surface) => {
                upload(&surface.planes, &source::planes(&drawn.picture, reading), queue);
                Surface { picture: Arc::clone(&drawn.picture), reading, ..surface }
            }
            None => {
                let planes = source::planes(&drawn.picture, reading);
                let surface = Surface::new(&self.layout, drawn, (reading, &planes), device);
                upload(&surface.planes, &planes, queue);
                surface
            }
        };
        self.surfaces.entry(drawn.surface).insert_entry(surface).into_mut()
    }
}

impl Surface {
    fn new(
        layout: &wgpu::BindGroupLayout,
        drawn: &Drawn,
        (reading, planes): (Reading, &[Plane<'_>]),
        device: &wgpu::Device,
    ) -> Self {
        let textures: Vec<_> =
            planes.iter().map(|plane| texture(device, plane.size, reading.sample_bytes)).collect();
        let uniforms = device.create_buffer(&wgpu::BufferDescriptor {
            label: Some("frame uniforms"),
            size: size_of::<Uniforms>() as u64,
            usage: wgpu::BufferUsages::UNIFORM | wgpu::BufferUsages::COPY_DST,
            mapped_at_creation: false,
        });
        let bind_group = bind_group(device, layout, &uniforms, &textures);
        Self {
            picture: Arc::clone(&drawn.picture),
            reading,
            planes: textures,
            uniforms,
            bind_group,
            unused_for: 0,
        }
    }
}

fn texture(device: &wgpu::Device, [w, h]: [u32; 2], sample_bytes: usize) -> wgpu::Texture {
    device.create_texture(&wgpu::TextureDescriptor {
        label: Some("frame plane"),
        size: extent(w, h),
        mip_level_count: 1,
        sample_count: 1,
        dimension: wgpu::TextureDimension::D2,
        format: if sample_bytes > 1 {
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

fn upload(textures: &[wgpu::Texture], planes: &[Plane<'_>], queue: &wgpu::Queue) {
    for (texture, plane) in textures.iter().zip(planes) {
        queue.write_texture(
            texture.as_image_copy(),
            &plane.bytes,
            wgpu::TexelCopyBufferLayout {
                offset: 0,
                bytes_per_row: Some(plane.stride as u32),
                rows_per_image: None,
            },
            extent(plane.size[0], plane.size[1]),
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
        resource: wgpu::BindingResource::TextureView(views.get(binding - 1).unwrap_or(&views[0])),
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
        source: wgpu::ShaderSource::Wgsl(include_str!("../../../../shaders/frame.wgsl").into()),
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
