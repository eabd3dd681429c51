'use strict';
// Moves the page to an instant. All numbers and drawings are in the data already.
(function () {
	var data = JSON.parse(document.getElementById('frames').textContent);
	var frames = data.frames, now = data.open;
	var all = function (q) { return Array.prototype.slice.call(document.querySelectorAll(q)); };
	var byKey = {};
	var sd = 0;
	data.keys.forEach(function (k, i) { byKey[k.name] = { i: i, form: data.forms[k.unit], sd: k.sd ? sd++ : -1 }; });

	function write(v, decimals, unit) {
		if (v === null) return data.absent;
		var s = Math.abs(v).toFixed(decimals);
		if (v < 0 && /[1-9]/.test(s)) s = data.minus + s;
		return unit ? s + '\u00a0' + unit : s;
	}
	var si = all('[data-v]'), us = all('[data-us]'), sds = all('[data-sd]'), parts = all('[data-part]'), spots = all('[data-spot]');
	var charts = all('svg.chart').map(function (e) {
		var d = e.dataset;
		return {
			svg: e, cursor: e.querySelector('.cursor'), t0: +d.t0, t1: +d.t1, x0: +d.x0, x1: +d.x1,
			v0: +d.v0, v1: +d.v1, y0: +d.y0, y1: +d.y1, meets: Array.prototype.slice.call(e.querySelectorAll('[data-at]'))
		};
	}).filter(function (c) { return c.cursor; });
	var feet = { lead: all('.instant .foot.lead'), trail: all('.instant .foot.trail') };
	var slider = document.getElementById('slider'), said = document.getElementById('said');

	function show(i) {
		now = Math.max(0, Math.min(frames.length - 1, i));
		var f = frames[now];
		slider.value = now;
		slider.setAttribute('aria-valuetext', f.said);
		said.textContent = f.said;
		si.forEach(function (e) {
			var k = byKey[e.dataset.v];
			e.textContent = write(f.v[k.i], k.form.d, k.form.si);
		});
		us.forEach(function (e) {
			var k = byKey[e.dataset.us], v = f.v[k.i];
			e.textContent = v === null ? '' : write(v * k.form.k, k.form.ud, k.form.us);
		});
		sds.forEach(function (e) {
			e.textContent = f.e[byKey[e.dataset.sd].sd];
		});
		parts.forEach(function (e) { e.setAttribute('d', f.d[e.dataset.part]); });
		spots.forEach(function (e) { e.setAttribute('transform', 'translate(' + f.m[e.dataset.spot] + ')'); });
		feet.lead.forEach(function (e) { e.style.fillOpacity = f.s[0]; });
		feet.trail.forEach(function (e) { e.style.fillOpacity = f.s[1]; });
		charts.forEach(function (c) {
			var x = c.x0 + (f.t - c.t0) / (c.t1 - c.t0) * (c.x1 - c.x0);
			c.cursor.setAttribute('transform', 'translate(' + x.toFixed(1) + ' 0)');
			c.cursor.style.visibility = 'visible';
			c.meets.forEach(function (e) {
				var v = f.v[byKey[e.dataset.at].i], y = c.y0 + (v - c.v0) / (c.v1 - c.v0) * (c.y1 - c.y0);
				var there = v !== null && y <= c.y0 + 1 && y >= c.y1 - 1;
				e.style.visibility = there ? 'visible' : 'hidden';
				if (there) e.setAttribute('transform', 'translate(' + x.toFixed(1) + ' ' + y.toFixed(1) + ')');
			});
		});
	}
	function nearest(t) {
		var best = 0;
		frames.forEach(function (f, i) { if (Math.abs(f.t - t) < Math.abs(frames[best].t - t)) best = i; });
		return best;
	}
	function event(step) {
		for (var i = now + step; i >= 0 && i < frames.length; i += step) if (frames[i].event) return show(i);
	}

	['control', 'keys'].forEach(function (id) { document.getElementById(id).hidden = false; });
	slider.addEventListener('input', function () { show(+slider.value); });
	document.getElementById('earlier').addEventListener('click', function () { event(-1); });
	document.getElementById('later').addEventListener('click', function () { event(1); });
	charts.forEach(function (c) {
		var width = c.svg.viewBox.baseVal.width;
		function at(e) {
			var box = c.svg.getBoundingClientRect(), x = (e.clientX - box.left) / box.width * width;
			show(nearest(c.t0 + (x - c.x0) / (c.x1 - c.x0) * (c.t1 - c.t0)));
		}
		c.svg.style.touchAction = 'pan-y';
		c.svg.addEventListener('pointermove', at);
		c.svg.addEventListener('pointerdown', at);
	});
	all('ol.events li[data-t]').forEach(function (e) {
		function go() { show(nearest(+e.dataset.t)); }
		e.setAttribute('role', 'button');
		e.tabIndex = 0;
		e.addEventListener('click', go);
		e.addEventListener('keydown', function (k) {
			if (k.key === 'Enter' || k.key === ' ') { k.preventDefault(); go(); }
		});
	});
	// The arrow keys move the instant from anywhere but a field of another kind.
	addEventListener('keydown', function (k) {
		var step = { ArrowLeft: -1, ArrowRight: 1 }[k.key];
		if (!step || k.altKey || k.ctrlKey || k.metaKey || /^(INPUT|TEXTAREA|SELECT)$/.test(k.target.tagName) && k.target !== slider) return;
		k.preventDefault();
		if (k.shiftKey) event(step); else show(now + step);
	});
	// What is folded is not printed, so there is one way to unfold it all.
	var unfold = document.getElementById('unfold');
	unfold.hidden = false;
	unfold.addEventListener('click', function () {
		var open = unfold.textContent === data.unfold;
		all('details').forEach(function (d) { d.open = open; });
		unfold.textContent = open ? data.fold : data.unfold;
	});
	// The address may name an instant, as in report.html#t=4.935.
	function named() {
		var t = /^#t=([-+.\d]+)$/.exec(location.hash);
		show(t ? nearest(+t[1]) : now);
	}
	addEventListener('hashchange', named);
	named();
})();
