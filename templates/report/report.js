
"use strict";
(() => {
  for (const tools of document.querySelectorAll(".tools[hidden]")) tools.hidden = false;

  // Zoom. The page holds the times of all frames; a lane is drawn anew for the part of the time that is shown.
  const time = document.getElementById("time");
  if (time) {
    const whole = Number(time.dataset.end);
    const quantum = Number(time.dataset.quantum);
    const laneWidth = 1000, leastSpan = 500;
    const box = time.querySelector(".lanes");
    const view = document.getElementById("time-view");
    const at = time.querySelector(".at");
    const ticks = time.querySelector(".ticks");
    let from = 0, to = whole, wanted = 0, joined = 3;

    const lanes = [...time.querySelectorAll("[data-marks]")].map((svg) => {
      let last = 0;
      const text = svg.dataset.marks;
      const times = text === "" ? [] : text.split(" ").map((part) => (last += parseInt(part, 36)) * quantum);
      return { times, wire: Number(svg.dataset.wire), marks: svg.querySelector(".marks"), bars: svg.querySelector(".bars") };
    });
    const bands = [...time.querySelectorAll(".band")].map((svg) => ({ svg, from: Number(svg.dataset.from), to: Number(svg.dataset.to) }));

    const firstAt = (times, limit) => {
      let low = 0, high = times.length;
      while (low < high) {
        const middle = (low + high) >> 1;
        if (times[middle] < limit) low = middle + 1; else high = middle;
      }
      return low;
    };
    const short = (value) => String(Math.round(value * 10) / 10);

    const drawLane = (lane) => {
      const scale = laneWidth / (to - from);
      const wire = lane.wire * scale;
      let marks = "", bars = "";
      for (let i = firstAt(lane.times, from - lane.wire); i < lane.times.length && lane.times[i] <= to;) {
        const first = (lane.times[i] - from) * scale;
        let last = first;
        while (++i < lane.times.length && lane.times[i] <= to) {
          const next = (lane.times[i] - from) * scale;
          if (next - last >= joined) break;
          last = next;
        }
        if (last > first) bars += `M${short(first)} 4H${short(last)}V12H${short(first)}z`;
        else if (wire > joined) marks += `M${short(first)} 3h${short(wire)}v10h-${short(wire)}z`;
        else marks += `M${short(first)} 2v12`;
      }
      lane.marks.setAttribute("d", marks);
      lane.bars.setAttribute("d", bars);
    };

    const drawBand = (band) => {
      const left = Math.max(band.from, from), right = Math.min(band.to, to);
      band.svg.setAttribute("x", `${100 * (left - from) / (to - from)}%`);
      band.svg.setAttribute("width", `${Math.max(0, 100 * (right - left) / (to - from))}%`);
    };

    const drawTicks = () => {
      const most = ticks.clientWidth < 500 ? 4 : 10;
      let step = 1;
      while ((to - from) / step > most) step = String(step)[0] === "2" ? step / 2 * 5 : step * 2;
      ticks.replaceChildren();
      const make = (name, attributes) => {
        const element = document.createElementNS("http://www.w3.org/2000/svg", name);
        for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
        ticks.append(element);
        return element;
      };
      for (let moment = Math.ceil(from / step) * step; moment <= to; moment += step) {
        const x = `${100 * (moment - from) / (to - from)}%`;
        make("line", { x1: x, x2: x, y1: 16, y2: 22 });
        const share = (moment - from) / (to - from);
        make("text", { x, y: 12, class: share < 0.03 ? "first" : share > 0.97 ? "last" : "" }).textContent = words(moment, step);
      }
    };

    const words = (us, step) => {
      const digits = step >= 1e6 ? 0 : Math.max(0, Math.ceil(6 - Math.log10(step)));
      return `${(us / 1e6).toFixed(digits)} s`;
    };

    const draw = () => {
      wanted = 0;
      joined = Math.max(3, 3 * laneWidth / ticks.clientWidth);
      lanes.forEach(drawLane);
      bands.forEach(drawBand);
      drawTicks();
      view.value = `${words(from, (to - from) / 100)} to ${words(to, (to - from) / 100)}`;
    };

    const show = (start, end) => {
      const span = Math.min(whole, Math.max(leastSpan, end - start));
      from = Math.min(Math.max(0, start), whole - span);
      to = from + span;
      wanted ||= requestAnimationFrame(draw);
    };
    const zoom = (factor, centre = (from + to) / 2) => show(centre - (centre - from) * factor, centre + (to - centre) * factor);
    const move = (share) => show(from + (to - from) * share, to + (to - from) * share);
    const actions = { in: () => zoom(0.5), out: () => zoom(2), earlier: () => move(-0.25), later: () => move(0.25), all: () => show(0, whole) };
    const keys = { "+": "in", "=": "in", "-": "out", "_": "out", ArrowLeft: "earlier", ArrowRight: "later", 0: "all" };

    const momentOf = (event) => {
      const area = ticks.getBoundingClientRect();
      return from + (to - from) * Math.min(1, Math.max(0, (event.clientX - area.left) / area.width));
    };
    const inLane = (event) => event.clientX >= ticks.getBoundingClientRect().left;

    time.addEventListener("click", (event) => {
      const button = event.target.closest("[data-do]");
      if (button) actions[button.dataset.do]();
    });
    box.addEventListener("keydown", (event) => {
      const action = event.ctrlKey || event.metaKey || event.altKey ? undefined : keys[event.key];
      if (!action) return;
      event.preventDefault();
      actions[action]();
    });
    box.addEventListener("wheel", (event) => {
      if (!event.ctrlKey && !event.metaKey) return;
      event.preventDefault();
      zoom(event.deltaY < 0 ? 0.8 : 1.25, momentOf(event));
    }, { passive: false });
    box.addEventListener("dblclick", (event) => { if (inLane(event)) zoom(0.4, momentOf(event)); });
    let drag = null;
    box.addEventListener("pointerdown", (event) => {
      if (event.button !== 0 || !inLane(event)) return;
      drag = { x: event.clientX, from, to };
      box.setPointerCapture(event.pointerId);
    });
    box.addEventListener("pointermove", (event) => {
      if (drag) {
        const by = (event.clientX - drag.x) / ticks.getBoundingClientRect().width * (drag.to - drag.from);
        show(drag.from - by, drag.to - by);
      }
      at.textContent = inLane(event) ? `pointer at ${words(momentOf(event), (to - from) / 1000)}` : "";
    });
    for (const name of ["pointerup", "pointercancel"]) box.addEventListener(name, () => { drag = null; });
    if (ticks.clientWidth < 500) draw();
  }

  // Boxes are stops for the keyboard only where there is something to scroll.
  const scrolling = new ResizeObserver((entries) => {
    for (const { target } of entries) target.toggleAttribute("tabindex", target.scrollWidth > target.clientWidth) && target.setAttribute("tabindex", "0");
  });
  for (const box of document.querySelectorAll(".wide")) scrolling.observe(box);

  // Opening, closing and finding frames.
  const frames = [...document.querySelectorAll("details.frame")];
  const filter = document.getElementById("frame-filter");
  for (const button of document.querySelectorAll("[data-open]"))
    button.addEventListener("click", () => { for (const frame of frames) if (!frame.hidden) frame.open = button.dataset.open === "yes"; });
  filter?.addEventListener("input", () => {
    const sought = filter.value.trim().toLowerCase();
    let found = 0;
    for (const frame of frames) {
      frame.hidden = !frame.querySelector("summary").textContent.toLowerCase().includes(sought);
      found += frame.hidden ? 0 : 1;
    }
    document.getElementById("frame-count").value = sought === "" ? "" : `${found} of ${frames.length} frames`;
  });

  // A link to something folded away unfolds it; paper shows everything.
  const unfold = () => {
    const target = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    for (let part = target; part; part = part.parentElement) if (part.localName === "details") part.open = true;
  };
  addEventListener("hashchange", unfold);
  unfold();
  let closed = [];
  addEventListener("beforeprint", () => {
    closed = [...document.querySelectorAll("details:not([open])")];
    for (const part of closed) part.open = true;
  });
  addEventListener("afterprint", () => { for (const part of closed) part.open = false; });
})();
