# Random access as the documentation of PyAV shows it: seek to the key picture before, then decode
# up to the time wanted. Prints pictures a second. usage: CLIP THREADS SECONDS
import sys
import time

import av

path, threads, cap = sys.argv[1], int(sys.argv[2]), float(sys.argv[3])
clip = av.open(path)
video = clip.streams.video[0]
video.thread_type = "AUTO"
video.codec_context.thread_count = threads
times = sorted(packet.pts for packet in clip.demux(video) if packet.pts is not None)
begun, done = time.perf_counter(), 0
for i in range(200):
    wanted = times[(i * 7919 + 13) % len(times)]
    clip.seek(wanted, stream=video, backward=True)
    for frame in clip.decode(video):
        if frame.pts is not None and frame.pts >= wanted:
            break
    done += 1
    if time.perf_counter() - begun > cap:
        break
print(done / (time.perf_counter() - begun))
