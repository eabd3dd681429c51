"use strict";
// The page draws what the server says; there is no mechanics in it.

const $ = (id) => document.getElementById(id);
const known = (...v) => v.every((x) => x !== null && x !== undefined && Number.isFinite(x));
const dash = "–";
// What is not known comes as null, which JavaScript takes for 0 in sums.
const parse = (text) => JSON.parse(text, (key, value) => value === null ? NaN : value);
const fixed = (x, d) => known(x) ? x.toFixed(d).replace(/^-(?=[0.]*$)/, "").replace("-", "−") : dash;

// Metres to units of the drawing, seen from the ball (y right, z up) and from
// overhead (y right, x down).
const metre = 300, middle = 310, ground = 560, overhead = 730;
const Y = (y) => middle + metre * y;
const Z = (z) => ground - metre * z;
const X = (x) => overhead + metre * x;
const upright = 0.36 / 1000 * metre * 2.2; // units per newton, from the ball
const level = 1.2 / 1000 * metre;          // from overhead

function set(e, attributes) {
	for (const [name, value] of Object.entries(attributes)) e.setAttribute(name, typeof value === "number" ? value.toFixed(1) : value);
}
function show(e, on) { e.setAttribute("visibility", on ? "visible" : "hidden"); }
function line(e, x1, y1, x2, y2) {
	const on = known(x1, y1, x2, y2);
	show(e, on);
	if (on) set(e, {x1, y1, x2, y2});
}
function make(name, attributes, parent) {
	const e = document.createElementNS("http://www.w3.org/2000/svg", name);
	set(e, attributes);
	parent.append(e);
	return e;
}

function drawPlates(setup) {
	$("plates").replaceChildren();
	for (const p of setup.plates)
		make("path", {class: "plate", d: "M" + p.map(([x, y]) => Y(y).toFixed(1) + " " + X(x).toFixed(1)).join("L") + "Z"}, $("plates"));
}

function arrows(name, push) {
	const [fx, fy, fz] = push.f, [x, y] = push.p;
	line($("front-" + name), Y(y), Z(0), Y(y) + upright * fy, Z(0) - upright * fz);
	const long = Math.hypot(fx, fy) > 8;
	line($("plan-" + name), long ? Y(y) : NaN, X(x), Y(y) + level * fy, X(x) + level * fx);
	const spot = $("spot-" + name);
	show(spot, known(x, y));
	if (known(x, y)) set(spot, {cx: Y(y), cy: X(x)});
	if (known(fz) && name !== "net") set(spot, {r: 3 + Math.sqrt(Math.max(0, fz)) / 3.2});
}

function drawStage(v) {
	for (const name of ["lead", "trail", "net"]) arrows(name, v[name]);
	const [cx, cy, cz] = v.com, there = known(cx, cy, cz);
	for (const id of ["mass", "mass-dot", "doubt", "cross"]) show($(id), there);
	const [, fy, fz] = v.net.f, [, py] = v.net.p;
	if (there) {
		for (const id of ["mass", "mass-dot", "doubt"]) set($(id), {cx: Y(cy), cy: Z(cz)});
		set($("doubt"), {r: Math.min(150, 9 + metre * Math.max(...v.comSD.slice(1)))});
		set($("cross"), {d: `M${Y(cy) - 7} ${X(cx)}h14M${Y(cy)} ${X(cx) - 7}v14`});
	}
	// The line that the force acts along, and the centre of mass's distance from it.
	const on = there && known(fy, fz, py) && fz > 50;
	const f = Math.hypot(fy, fz), along = on ? ((cy - py) * fy + cz * fz) / (f * f) : NaN;
	line($("carry"), Y(py), Z(0), Y(py + 1.9 / fz * fy), Z(1.9));
	show($("carry"), on);
	line($("arm"), Y(cy), Z(cz), Y(py + along * fy), Z(along * fz));
	show($("arm-text"), on);
	if (on) {
		const left = v.arm.frontal < 0 ? 1 : -1;
		set($("arm-text"), {x: Y(cy) + 16 * left, y: Z(cz) - 14, "text-anchor": left < 0 ? "end" : "start"});
		$("arm-text").textContent = fixed(100 * v.arm.frontal, 1) + " cm";
	}
}

function drawFigures(v) {
	const share = v.share;
	$("share-lead").textContent = known(share) ? Math.round(100 * share) + " %" : dash;
	$("share-trail").textContent = known(share) ? 100 - Math.round(100 * share) + " %" : dash;
	for (const part of document.querySelectorAll("#bar .part")) show(part, known(share));
	if (known(share)) {
		const s = Math.min(1, Math.max(0, share));
		set($("share"), {x: 400 * (1 - s), width: 400 * s});
	}
	show($("empty"), !known(v.net.p[0], v.net.p[1]));
	$("empty").textContent = v.link ? "nothing is measured" : "no load on the plates";
	$("frontal").textContent = fixed(v.moment.frontal, 0);
	$("frontal-us").textContent = known(v.moment.frontal) ? fixed(v.moment.frontal / 1.3558179, 0) + " lbf·ft" : v.link ? "" : "weigh the golfer first";
	$("axial").textContent = fixed(v.moment.horizontal, 0);
	$("axial-us").textContent = known(v.moment.horizontal) ? fixed(v.moment.horizontal / 1.3558179, 0) + " lbf·ft" : "";
	$("armlong").textContent = fixed(100 * v.arm.frontal, 1);
	$("arm-us").textContent = known(v.arm.frontal) ? fixed(v.arm.frontal / 0.0254, 1) + " in" : "";
	$("vertical").textContent = fixed(v.net.f[2], 0);
	$("vertical-bw").textContent = known(v.mass, v.net.f[2]) ? fixed(100 * v.net.f[2] / (9.80665 * v.mass), 0) + " % of body weight" : "";
	const motion = {waiting: "", ready: "standing still", moving: "moving", swinging: "swinging"}[v.motion];
	const state = {
		idle: "the plates are not zeroed", zeroing: "zeroing: leave the plates empty", zeroed: "zeroed: step on and stand still",
		weighing: "weighing: stand still", ready: known(v.mass) ? fixed(v.mass, 1) + " kg" : "ready",
	}[v.state];
	const said = v.link ? "no samples from the device" : state + (motion && v.state === "ready" ? ", " + motion : "");
	if ($("said").textContent !== said) $("said").textContent = said;
	const trouble = [v.link, v.refusal, v.health === "good" ? "" : "signal: " + v.health].filter(Boolean).join(" · ");
	slowly(trouble);
	const d = v.device;
	$("counts").textContent = `${d.packets} samples came, ${d.lost} were lost, ${d.damaged} frames damaged, ${d.skipped} bytes skipped, ` +
		`${d.repeated} samples repeated, ${d.connections} connections; this page missed ${missed} views; algorithms of the chain, version ${v.version}`;
}

// A message stays for a while, so that it can be read.
let troubled = 0;
function slowly(text) {
	const now = performance.now();
	if (text) {
		troubled = now;
		$("trouble").textContent = text;
		$("trouble").hidden = false;
	} else if (now - troubled > 1500) {
		$("trouble").hidden = true;
	}
}

// Two charts above each other on one time axis: rows are [t, lead, trail, frontal,
// axial].
function chart(svg, rows, from, to, marks) {
	const {width, height} = svg.viewBox.baseVal, left = 46, right = width - 8, foot = height - 24, half = foot / 2;
	svg.replaceChildren();
	const px = (t) => left + (t - from) / (to - from) * (right - left);
	const part = (top, bottom, low, high, unit, step, series) => {
		const py = (v) => bottom - (v - low) / (high - low) * (bottom - top);
		make("rect", {class: "frame", x: left, y: top, width: right - left, height: bottom - top}, svg);
		for (let v = Math.ceil(low / step) * step; v <= high; v += step) {
			make("line", {class: v === 0 ? "zero" : "frame", x1: left, x2: right, y1: py(v), y2: py(v)}, svg);
			make("text", {x: left - 6, y: py(v) + 4, "text-anchor": "end"}, svg).textContent = String(v).replace("-", "−");
		}
		make("text", {x: left + 6, y: top + 14}, svg).textContent = unit;
		for (const [k, name] of series) {
			let d = "", pen = false;
			for (const row of rows) {
				if (row[0] < from || !known(row[0], row[k])) { pen = false; continue; }
				d += (pen ? "L" : "M") + px(row[0]).toFixed(1) + " " + py(Math.min(high, Math.max(low, row[k]))).toFixed(1);
				pen = true;
			}
			if (d) make("path", {class: name, d}, svg);
		}
	};
	const peak = (...ks) => Math.max(...rows.flatMap((r) => ks.map((k) => known(r[k]) ? Math.abs(r[k]) : 0)), 0);
	const force = Math.max(1000, 500 * Math.ceil(peak(1, 2) / 500));
	const torque = Math.max(100, 100 * Math.ceil(peak(3, 4) / 100));
	part(8, half - 2, 0, force, "N", 500, [[1, "lead"], [2, "trail"]]);
	part(half + 10, foot, -torque, torque, "N·m", torque > 200 ? 200 : 100, [[3, "frontal"], [4, "axial"]]);
	for (const m of marks) {
		make("line", {class: "at" + (m.label === "impact" ? " impact" : ""), x1: px(m.t), x2: px(m.t), y1: 8, y2: foot}, svg);
		if (m.n) make("text", {x: px(m.t), y: height - 8, "text-anchor": "middle"}, svg).textContent = m.n;
	}
}

let swing = null;

function drawSwing(s) {
	swing = s;
	$("swing").hidden = false;
	$("swing").dataset.number = s.number;
	$("swing-said").textContent = s.failed ? "no. " + s.number + ": " + s.failed :
		`no. ${s.number}, ${fixed(s.mass, 1)} kg, worked out with zero-phase filters, algorithms of version ${s.version}` + (s.warnings ? `; ${s.warnings} remarks` : "");
	const rows = s.curves ?? [], events = (s.events ?? []).filter((e) => known(e.t));
	if (rows.length > 1) {
		const from = rows[0][0], to = rows[rows.length - 1][0];
		const narrow = $("curves").clientWidth < 640, width = narrow ? 520 : 1040;
		let last = -Infinity; // numbers must not lie on each other
		const marks = events.map((e, i) => ({...e, n: i + 1})).filter((e) => e.t >= from && e.t <= to);
		for (const m of marks) {
			if ((m.t - last) / (to - from) * width < 20) m.n = 0; else last = m.t;
		}
		$("curves").setAttribute("viewBox", narrow ? "0 0 520 360" : "0 0 1040 300");
		chart($("curves"), rows, from, to, marks);
	}
	const fill = (body, cells) => body.replaceChildren(...cells.map(([head, value, note]) => {
		const tr = document.createElement("tr"), th = document.createElement("th"), td = document.createElement("td");
		th.scope = "row";
		th.textContent = head;
		td.textContent = value;
		if (note) {
			const small = document.createElement("small");
			small.textContent = " " + note;
			td.append(small);
		}
		tr.append(th, td);
		return tr;
	}));
	const digits = {N: 0, "%BW": 0, "%": 0, "N·m": 0, m: 3, s: 3};
	fill($("measures"), (s.measures ?? []).map((m) => {
		const d = digits[m.unit] ?? 2;
		return [m.label, known(m.value) ? fixed(m.value, d) + " " + m.unit : dash, known(m.sd) ? "± " + (m.sd < 1 ? m.sd.toPrecision(1) : fixed(m.sd, 0)) : ""];
	}));
	fill($("events"), events.map((e, i) => [`${i + 1}  ${e.label}`, fixed(e.t, 3), e.source === "detected" ? "" : e.source]));
}

let view = null, missed = 0, traces = [], drawn = true;
const calm = matchMedia("(prefers-reduced-motion: reduce)"); // twice a second is enough then

function draw() {
	drawn = true;
	if (!view) return;
	drawStage(view);
	drawFigures(view);
	const end = view.t;
	chart($("strip"), traces, end - 6, end, []);
	document.body.dataset.views = Number(document.body.dataset.views ?? 0) + 1;
}

const source = new EventSource("events");
source.addEventListener("setup", (e) => drawPlates(parse(e.data)));
source.addEventListener("now", (e) => {
	view = parse(e.data);
	if (traces.length && view.t < traces[traces.length - 1][0] - 1) traces = []; // the device began anew
	traces.push(...(view.traces ?? []));
	while (traces.length && traces[0][0] < view.t - 6.2) traces.shift();
	if (drawn) {
		drawn = false;
		if (calm.matches) setTimeout(draw, 500); else requestAnimationFrame(draw);
	}
});
source.addEventListener("swing", (e) => drawSwing(parse(e.data)));
addEventListener("resize", () => { if (swing) drawSwing(swing); });
source.addEventListener("dropped", (e) => { missed = Number(e.data); });
source.addEventListener("error", () => slowly("the program does not answer; trying again"));

for (const what of ["zero", "weigh"])
	$(what).addEventListener("click", () => fetch(what, {method: "POST"}).then((r) => { if (!r.ok) slowly("the request was refused: " + r.status); }, () => slowly("the program does not answer")));
