'use strict';
// Gives the files that are dropped or chosen to the analysis and shows what comes
// back. All text of a file is shown as text.
(function () {
	var id = function (name) { return document.getElementById(name); };
	var largest = 256 * 1024 * 1024; // bytes of a file
	var state = function (s) { document.body.dataset.state = s; };
	var report = null, address = null;

	// The engine is unpacked once and started anew for each job, so that memory is
	// given back and nothing of one job is left for the next.
	var engine = null;
	function unpack() {
		if (!self.WebAssembly || !self.DecompressionStream) {
			return Promise.reject(new Error('This browser is too old to run the analysis: use one of 2023 or later, or the program examples/report.'));
		}
		if (!engine) {
			engine = Promise.resolve().then(function () {
				var text = atob(JSON.parse(id('engine').textContent)), bytes = new Uint8Array(text.length);
				for (var i = 0; i < bytes.length; i++) bytes[i] = text.charCodeAt(i);
				return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'))).arrayBuffer();
			}).then(function (code) { return WebAssembly.compile(code); });
		}
		return engine;
	}
	function run(job) {
		return unpack().then(function (module) {
			var answer = null, go = new Go();
			job.done = function (a) { answer = a; };
			self.groundJob = job;
			return WebAssembly.instantiate(module, go.importObject).then(function (instance) { return go.run(instance); }).catch(function () {}).then(function () {
				delete self.groundJob;
				if (!answer) throw new Error('The analysis stopped before its end, most likely for want of memory: cut the recording to one swing, or use the program examples/report.');
				return answer;
			});
		});
	}

	function read(file) {
		if (!file) return Promise.resolve(null);
		if (file.size > largest) {
			return Promise.reject(new Error(file.name + ': larger than ' + largest / 1048576 + ' MiB: cut the recording to one swing.'));
		}
		return file.arrayBuffer().then(function (data) {
			return { name: file.name, data: new Uint8Array(data) };
		}, function () {
			throw new Error(file.name + ': can not be read. It may have been moved or changed: choose it again.');
		});
	}
	function written() {
		var text = id('written').value;
		return text.trim() ? { name: 'the setup written here', data: new TextEncoder().encode(text) } : null;
	}
	function gather() {
		var pick = function (name) { return read(id(name).files[0]); };
		var others = Promise.all(Array.from(id('others').files, read));
		return Promise.all([pick('capture'), pick('setup'), pick('before'), others]).then(function (f) {
			return { capture: f[0], setup: f[1] || written(), before: f[2], others: f[3] };
		});
	}

	function fail(text) {
		id('status').textContent = '';
		id('wrong').textContent = text;
		id('wrong').hidden = false;
		id('wrong').scrollIntoView({ block: 'nearest' });
		state('wrong');
	}
	function work(job) {
		var buttons = [id('make'), id('demo')];
		buttons.forEach(function (b) { b.disabled = true; });
		id('wrong').hidden = true;
		id('status').textContent = 'Working. This takes some seconds, in which the page does not answer.';
		state('working');
		// Let the browser draw that before it is busy.
		new Promise(function (then) { setTimeout(then, 50); }).then(function () { return job; }).then(run).then(function (answer) {
			if (answer.error) fail(answer.error); else show(answer);
		}).catch(function (e) { fail(e.message); }).then(function () {
			buttons.forEach(function (b) { b.disabled = false; });
		});
	}
	function show(answer) {
		report = answer;
		id('status').textContent = '';
		id('title').textContent = answer.title;
		id('report').srcdoc = answer.html;
		id('ask').hidden = true;
		id('shown').hidden = false;
		id('report').focus();
		state('shown');
	}
	function save(what) {
		var form = { html: ['text/html', '.html'], json: ['application/json', '.json'], series: ['text/csv', '.csv'] }[what];
		if (address) URL.revokeObjectURL(address);
		address = URL.createObjectURL(new Blob([report[what]], { type: form[0] + ';charset=utf-8' }));
		var link = document.createElement('a');
		link.href = address;
		link.download = report.title.replace(/\.[^.]*$/, '').replace(/[^\w.-]+/g, '_') + form[1];
		link.click();
	}

	// Files that are dropped go where their kind belongs.
	function sort(files) {
		var kind = function (f) { return (/\.([^.]+)$/.exec(f.name.toLowerCase()) || ['', ''])[1]; };
		var of = function (test) { return files.filter(test); };
		var setups = of(function (f) { return kind(f) === 'json'; });
		var c3ds = of(function (f) { return kind(f) === 'c3d'; });
		var rest = of(function (f) { return setups.indexOf(f) < 0 && c3ds.indexOf(f) < 0; });
		if (setups.length > 1) return 'More than one setup was dropped: drop one, or choose it above.';
		if (c3ds.length > 1 || !c3ds.length && rest.length > 1) return 'More than one capture was dropped: choose above which is the capture, and which the earlier one.';
		if (setups.length) put('setup', setups);
		if (c3ds.length) put('capture', c3ds);
		if (rest.length) put(c3ds.length ? 'others' : 'capture', rest);
		return '';
	}
	function put(field, files) {
		var box = new DataTransfer();
		files.forEach(function (f) { box.items.add(f); });
		id(field).files = box.files;
	}

	id('form').addEventListener('submit', function (e) {
		e.preventDefault();
		if (!id('capture').files[0]) {
			fail('Choose a capture first, or look at the made-up swing.');
			id('capture').focus();
			return;
		}
		work(gather());
	});
	id('demo').addEventListener('click', function () { work({ demo: true, others: [] }); });
	id('again').addEventListener('click', function () {
		id('report').removeAttribute('srcdoc');
		report = null;
		id('shown').hidden = true;
		id('ask').hidden = false;
		id('capture').focus();
		state('ready');
	});
	document.querySelectorAll('[data-save]').forEach(function (b) {
		b.addEventListener('click', function () { save(b.dataset.save); });
	});
	var depth = 0;
	var over = function (by) { depth = by ? depth + by : 0; document.body.classList.toggle('over', depth > 0); };
	addEventListener('dragenter', function () { over(1); });
	addEventListener('dragleave', function () { over(-1); });
	addEventListener('dragover', function (e) { e.preventDefault(); });
	addEventListener('drop', function (e) {
		e.preventDefault();
		over(0);
		if (document.body.dataset.state === 'working' || !id('shown').hidden) return;
		var wrong = sort(Array.from(e.dataTransfer.files));
		if (wrong) fail(wrong); else id('wrong').hidden = true;
	});
})();
