/* page.js - the phone page: what is ticked and kept, the next cut, mishaps, site.csv
   SPDX-License-Identifier: GPL-3.0-or-later

   The data: plan, job, inches, boards [[number, millimetres, [piece ...]] ...], pieces [label ...].
   In the page: a piece's row among the boards p0, p1 ... and among the runs f0 ..., its drawings s0 ... and e0 ...;
   a board b1, b2 ... */
(function () {
'use strict';

var data = JSON.parse(get('data').textContent);
var key = 'spanwright ' + data.plan + ' ' + data.revision + ' ' + data.job;
var boardOf = [], places = {}, searched = [];
/* What has become of a piece (p: c cut, f fixed, s spoiled) and of a board (b: bad), what is still good of either (l, m),
   and the board at the saw (at: {n: its place among the boards}). */
var maps = ['p', 'l', 'b', 'm', 'at'];
var state = { p: {}, l: {}, b: {}, m: {}, at: {} };
var history = [], step = null, shownNext = null;
var words = { c: 'cut', f: 'fixed', s: 'spoiled', bad: 'bad' };
var classes = { c: 'cut', f: 'fixed', s: 'spoiled' };

function get(id) { return document.getElementById(id); }
function each(list, work) { Array.prototype.forEach.call(list, work); }
function text(id, what) { get(id).textContent = what; }
function part(row, name) { var found = row && row.querySelector('.' + name); return found ? found.textContent : ''; }
function many(count, one) { return count + ' ' + one + (count === 1 ? '' : 's'); }

/* ---- What is kept ---- */

function read() {
  var kept = null;
  try { kept = JSON.parse(localStorage.getItem(key)); } catch (fault) { kept = null; }
  maps.forEach(function (map) {
    state[map] = {};
    if (kept && typeof kept === 'object' && kept[map] && typeof kept[map] === 'object')
      Object.keys(kept[map]).forEach(function (name) { if (fits(map, name, kept[map][name])) state[map][name] = kept[map][name]; });
  });
}

function fits(map, name, value) {
  if (map === 'p') return boardOf[name] !== undefined && classes.hasOwnProperty(value);
  if (map === 'b') return places.hasOwnProperty(name) && value === 'bad';
  if (map === 'at') return name === 'n' && data.boards[value] !== undefined;
  return (map === 'l' ? boardOf[name] !== undefined : places.hasOwnProperty(name)) && typeof value === 'string' && readLeft(value, Infinity).value === value;
}

function keep() {
  try {
    localStorage.setItem(key, JSON.stringify(state));
    get('unkept').hidden = true;
  } catch (fault) { get('unkept').hidden = false; }
}

/* ---- Changes, each of which can be undone ---- */

function put(map, name, value) {
  if (state[map][name] === value) return;
  step.push([map, name, state[map][name]]);
  if (value === undefined) delete state[map][name]; else state[map][name] = value;
}

function change(said, work) {
  step = [];
  work();
  if (step.length) {
    history.push(step);
    if (history.length > 100) history.shift();
    keep();
    show(step);
    say(said);
  }
  step = null;
}

function undo() {
  var last = history.pop();
  if (!last) return;
  last.reverse().forEach(function (one) { if (one[2] === undefined) delete state[one[0]][one[1]]; else state[one[0]][one[1]] = one[2]; });
  keep();
  show(last);
  say('Taken back');
}

var clock = 0;
function say(what) {
  text('said', what);
  clearTimeout(clock);
  clock = setTimeout(function () { text('said', ''); }, 4000);
}

function setPiece(piece, value, left) {
  put('p', piece, value || undefined);
  put('l', piece, value === 's' && left ? left : undefined);
}

function setBoard(place, cut) {
  data.boards[place][2].forEach(function (piece) {
    var now = state.p[piece];
    if (cut ? !now : now === 'c' || now === 'f') setPiece(piece, cut ? 'c' : '');
  });
}

/* ---- Showing ---- */

function mark(id, piece, ticked) {
  var row = get(id), now = state.p[piece];
  if (!row) return;
  row.className = 'row' + (now ? ' ' + classes[now] : '');
  row.querySelector('input').checked = ticked;
  row.querySelector('.s').textContent = now ? words[now] + (state.l[piece] ? ', ' + withUnit(state.l[piece]) + ' is good' : '') : '';
}

function draw(id, piece) {
  var shape = get(id), now = state.p[piece];
  if (shape) shape.setAttribute('class', shape.getAttribute('class').charAt(0) + (now ? ' ' + classes[now] : id.charAt(0) === 's' && shownNext === piece ? ' next' : ''));
}

function showPiece(piece) {
  var now = state.p[piece];
  mark('p' + piece, piece, now === 'c' || now === 'f');
  mark('f' + piece, piece, now === 'f');
  draw('s' + piece, piece);
  draw('e' + piece, piece);
}

function isOpen(place) {
  var board = data.boards[place];
  return !state.b[board[0]] && board[2].some(function (piece) { return !state.p[piece]; });
}

function showBoard(place) {
  var board = data.boards[place], row = get('b' + board[0]), box = row.querySelector('input');
  var cut = board[2].filter(function (piece) { return state.p[piece] === 'c' || state.p[piece] === 'f'; }).length;
  var bad = state.b[board[0]], left = state.m[board[0]];
  row.className = 'board' + (bad ? ' bad' : '');
  box.checked = cut === board[2].length;
  box.indeterminate = cut > 0 && cut < board[2].length;
  row.querySelector('.head .s').textContent = bad ? ' bad' + (left ? ', ' + withUnit(left) + ' is good' : '') : '';
  row.hidden = !isFound(place);
}

function show(changes) {
  var pieces = {}, boards = {};
  changes.forEach(function (one) {
    if (one[0] === 'p' || one[0] === 'l') pieces[one[1]] = boards[boardOf[one[1]]] = true;
    else if (one[0] !== 'at') boards[places[one[1]]] = true;
  });
  Object.keys(pieces).forEach(showPiece);
  Object.keys(boards).forEach(showBoard);
  showRest();
}

function showAll() {
  data.pieces.forEach(function (label, piece) { showPiece(piece); });
  data.boards.forEach(function (board, place) { showBoard(place); });
  showRest();
}

function showRest() {
  var count = { c: 0, f: 0, s: 0 };
  Object.keys(state.p).forEach(function (piece) { count[state.p[piece]]++; });
  var wrong = count.s + Object.keys(state.b).length;
  text('progress', (count.c + count.f) + ' of ' + many(data.pieces.length, 'piece') + ' cut, ' + count.f + ' fixed');
  text('count', wrong ? '\u00a0(' + wrong + ')' : '');
  get('undo').disabled = history.length === 0;
  showNext();
  showMishaps();
  var report = site();
  get('csv').value = report.csv;
  get('save').disabled = get('copy').disabled = get('forget').disabled = report.rows === 0;
}

/* ---- The next cut ---- */

function nextPlace(from) {
  for (var i = 0; i < data.boards.length; i++)
    if (isOpen((from + i) % data.boards.length)) return (from + i) % data.boards.length;
  return -1;
}

function showNext() {
  var place = nextPlace(state.at.n || 0), before = shownNext;
  get('card').hidden = place < 0;
  get('all-cut').hidden = place >= 0;
  shownNext = null;
  if (before !== null) draw('s' + before, before);
  if (place < 0) {
    text('all-cut', 'Nothing is left to cut' + (get('count').textContent ? '; see the mishaps.' : '.'));
    return;
  }
  var board = data.boards[place], card = get('b' + board[0]);
  var piece = board[2].filter(function (one) { return !state.p[one]; })[0], row = get('p' + piece);
  shownNext = piece;
  draw('s' + piece, piece);
  text('next-board', board[0]);
  text('next-stock', part(card, 'stock'));
  text('next-length', part(row, 'n'));
  text('next-saw', part(row, 'saw'));
  text('next-label', part(row, 'label'));
  text('next-left', part(row, 'over').replace(/^left /, ''));
  get('next-place').hidden = !get('f' + piece);
  get('next-place').setAttribute('href', '#f' + piece);
  var copy = card.querySelector('svg').cloneNode(true);
  each(copy.querySelectorAll('[id]'), function (one) { one.removeAttribute('id'); });
  get('next-drawing').textContent = '';
  get('next-drawing').appendChild(copy);
}

/* ---- Finding a board ---- */

function isFound(place) {
  var wanted = get('find').value.trim().toLowerCase();
  if (get('open').checked && !isOpen(place)) return false;
  return wanted === '' || String(data.boards[place][0]) === wanted || (!/^\d+$/.test(wanted) && searched[place].indexOf(wanted) >= 0);
}

var typing = 0;
/* A long list is gone through when the word is whole, not at every letter. */
function filterSoon() {
  clearTimeout(typing);
  typing = setTimeout(filter, 250);
}

function filter() {
  data.boards.forEach(function (board, place) { get('b' + board[0]).hidden = !isFound(place); });
}

/* ---- Mishaps ---- */

var asked = null;

function ask(of, name) {
  var isPiece = of === 'piece', dialog = get('mishap');
  asked = { isPiece: isPiece, name: name };
  text('mishap-head', isPiece ? 'What became of this piece?' : 'What became of board ' + name + '?');
  text('mishap-what', isPiece ? part(get('p' + name), 'n') + ' \u00b7 ' + part(get('p' + name), 'label') + ' \u00b7 board ' + data.boards[boardOf[name]][0]
                              : part(get('b' + name), 'stock'));
  get('of-piece').hidden = !isPiece;
  get('of-board').hidden = isPiece;
  get('left').value = (isPiece ? state.l[name] : state.m[name]) || '';
  get('left-wrong').hidden = true;
  if (dialog.showModal) dialog.showModal(); else dialog.setAttribute('open', '');
  (isPiece ? get('of-piece') : get('of-board')).querySelector('button').focus();
}

function close() {
  var dialog = get('mishap');
  if (dialog.close) dialog.close(); else dialog.removeAttribute('open');
}

/* A length as site.csv takes it. */
function readLeft(written, most) {
  var plain = written.trim().replace(/[\u2019\u2032]/g, "'").replace(/[\u201d\u2033]/g, '"').replace(/\s+/g, ' '), found, size;
  if (plain === '') return { value: '', size: 0 };
  if (data.inches) {
    found = /^(?:(\d{1,5}) ?(?:ft|'))? ?(?:(\d{1,5}(?:\.\d{1,4})?)? ?(?:(\d{1,3})\/(\d{1,3}))? ?(?:in|")?)?$/i.exec(plain);
    if (!found || (found[4] && !+found[4])) return null;
    size = 25.4 * (12 * (found[1] || 0) + +(found[2] || 0) + (found[3] ? found[3] / found[4] : 0));
    plain = (found[1] ? found[1] + 'ft' : '') + (found[1] && (found[2] || found[3]) ? ' ' : '')
            + (found[2] || '') + (found[2] && found[3] ? ' ' : '') + (found[3] ? found[3] + '/' + found[4] : '') + (found[2] || found[3] ? 'in' : '');
    if ((found[1] && +found[2] >= 12) || (found[3] && found[2] && (found[2].indexOf('.') >= 0 || +found[3] >= +found[4]))) return null;
  } else {
    found = /^(\d{1,6}(?:[.,]\d{1,3})?) ?(mm|cm|m)?$/i.exec(plain);
    if (!found) return null;
    size = +found[1].replace(',', '.') * { mm: 1, cm: 10, m: 1000 }[(found[2] || 'mm').toLowerCase()];
    plain = found[1].replace(',', '.') + (found[2] && found[2].toLowerCase() !== 'mm' ? found[2].toLowerCase() : '');
  }
  return size > 0 && size <= most ? { value: plain, size: size } : null;
}

function withUnit(left) { return data.inches || /m$/.test(left) ? left : left + ' mm'; }

function answer(value) {
  var name = asked.name, place = asked.isPiece ? boardOf[name] : places[name];
  var counts = value === 's' || value === 'bad';
  var left = counts ? readLeft(get('left').value, data.boards[place][1]) : { value: '' };
  if (!left) {
    text('left-wrong', 'Expected a length no longer than the board, such as ' + (data.inches ? '24 1/2' : '650') + ', or nothing.');
    get('left-wrong').hidden = false;
    get('left').focus();
    return;
  }
  close();
  if (asked.isPiece)
    change(data.pieces[name] + ': ' + (words[value] || 'as planned'), function () { setPiece(name, value, left.value); });
  else
    change('Board ' + name + ': ' + (value === 'up' ? 'all of it is cut' : words[value] || 'as planned'), function () {
      put('b', name, value === 'bad' ? 'bad' : undefined);
      put('m', name, value === 'bad' && left.value ? left.value : undefined);
      if (value === 'up') setBoard(place, true);
    });
}

function showMishaps() {
  var list = get('mishaps');
  list.textContent = '';
  data.boards.forEach(function (board) {
    if (state.b[board[0]]) addMishap(list, 'board', board[0], 'Board ' + board[0], 'bad', state.m[board[0]]);
    board[2].forEach(function (piece) {
      if (state.p[piece] === 's') addMishap(list, 'piece', piece, part(get('p' + piece), 'label'), 'spoiled', state.l[piece]);
    });
  });
  if (!list.firstChild) list.appendChild(document.createElement('li')).textContent = 'None.';
}

function addMishap(list, of, name, what, word, left) {
  var item = list.appendChild(document.createElement('li')), button = document.createElement('button');
  item.className = 'row';
  item.appendChild(document.createElement('label')).textContent = what + ': ' + word + (left ? ', ' + withUnit(left) + ' is good' : '');
  button.type = 'button';
  button.textContent = 'Change';
  button.setAttribute('aria-label', 'Change: ' + what);
  button.setAttribute('data-' + of, name);
  item.appendChild(button);
}

/* ---- site.csv ---- */

/* RFC 4180; a text that a spreadsheet would run gets an apostrophe in front. */
function cell(written) {
  if (/^'*[=+\-@\t\r]/.test(written)) written = "'" + written;
  return /[",;\t\r\n]|^ | $|^\ufeff/.test(written) ? '"' + written.replace(/"/g, '""') + '"' : written;
}

function site() {
  var rows = ['piece,board,state,left'];
  function add(piece, board, word, left) { rows.push([piece === null ? '' : cell(data.pieces[piece]), board, word, left ? cell(left) : ''].join(',')); }
  data.boards.forEach(function (board) {
    var bad = state.b[board[0]];
    var cut = board[2].filter(function (piece) { return state.p[piece] === 'c'; });
    /* All of it in one row, where nothing else is said of the board. */
    var whole = !bad && cut.length > 1 && board[2].every(function (piece) { return state.p[piece]; });
    if (bad) add(null, board[0], 'bad', state.m[board[0]]);
    if (whole) add(null, board[0], 'cut up', '');
    board[2].forEach(function (piece) {
      var now = state.p[piece];
      if (now && !(whole && now === 'c')) add(piece, '', words[now], state.l[piece]);
    });
  });
  return { rows: rows.length - 1, csv: rows.join('\r\n') + '\r\n' };
}

function save() {
  var link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([site().csv], { type: 'text/csv;charset=utf-8' }));
  link.download = 'site.csv';
  document.body.appendChild(link);
  link.click();
  document.body.removeChild(link);
  setTimeout(function () { URL.revokeObjectURL(link.href); }, 60000);
  say('site.csv is among the downloads');
}

function copy() {
  var box = get('csv'), done = false;
  box.focus();
  box.select();
  try { done = document.execCommand('copy'); } catch (fault) { done = false; }
  say(done ? 'Copied' : 'Marked: copy it by hand');
}

var sure = 0;
function forget() {
  if (Date.now() - sure > 5000) {
    sure = Date.now();
    text('forget', 'Once more: forget all');
    setTimeout(function () { text('forget', 'Forget all ticks'); }, 5000);
    return;
  }
  sure = 0;
  text('forget', 'Forget all ticks');
  change('All ticks are forgotten', function () {
    maps.forEach(function (map) { Object.keys(state[map]).forEach(function (name) { put(map, name, undefined); }); });
  });
}

/* ---- Parts of the page ---- */

var wide = window.matchMedia('(min-width: 60rem)');

function look() {
  var name = location.hash.slice(1), target = /^[pfb]\d+$/.test(name) ? get(name) : null;
  var sections = document.querySelectorAll('main > section'), shown = target ? target.closest('section').id : name;
  if (!shown || !document.querySelector('main > section[id="' + shown.replace(/[^a-z]/g, '') + '"]')) shown = 'next';
  /* Beside the next cut there is always one other part where there is room for both. */
  each(sections, function (one) { one.hidden = wide.matches ? one.id !== 'next' && one.id !== (shown === 'next' ? 'boards' : shown) : one.id !== shown; });
  each(document.querySelectorAll('nav a'), function (one) {
    if (one.getAttribute('href') === '#' + shown) one.setAttribute('aria-current', 'page'); else one.removeAttribute('aria-current');
  });
  if (target) { if (target.hidden) { get('find').value = ''; get('open').checked = false; filter(); } light(target); }
  else window.scrollTo(0, 0);
}

function light(row) {
  row.scrollIntoView({ block: 'center' });
  row.classList.add('lit');
  setTimeout(function () { row.classList.remove('lit'); }, 2000);
  var box = row.querySelector('input');
  if (box) box.focus({ preventScroll: true });
}

/* ---- Beginning ---- */

function ticked(event) {
  var box = event.target, row = box.closest('li'), id = row ? row.id : '', of = id.slice(1);
  if (!/^[pfb]\d+$/.test(id)) return;
  if (id.charAt(0) === 'b')
    change('Board ' + of + (box.checked ? ': all of it is cut' : ': nothing is cut'), function () { setBoard(places[of], box.checked); });
  else {
    var value = id.charAt(0) === 'p' ? (box.checked ? 'c' : '') : (box.checked ? 'f' : 'c');
    change(data.pieces[of] + ': ' + (words[value] || 'not cut'), function () { setPiece(+of, value); });
  }
}

function clicked(event) {
  var button = event.target.closest('button, g');
  if (!button) return;
  if (button.hasAttribute('data-piece')) ask('piece', +button.getAttribute('data-piece'));
  else if (button.hasAttribute('data-board')) ask('board', button.getAttribute('data-board'));
  else if (button.hasAttribute('data-go')) {
    change('Board ' + button.getAttribute('data-go') + ' is at the saw', function () { put('at', 'n', places[button.getAttribute('data-go')]); });
    location.hash = '#next';
  } else if (button.hasAttribute('data-state')) answer(button.getAttribute('data-state'));
  else if (/^e\d+$/.test(button.id)) light(get('f' + button.id.slice(1)));
}

function begin() {
  data.boards.forEach(function (board, place) {
    places[board[0]] = place;
    board[2].forEach(function (piece) { boardOf[piece] = place; });
    searched.push(get('b' + board[0]).textContent.toLowerCase());
  });
  document.documentElement.classList.add('scripted');
  each(document.querySelectorAll('.row input, .head input, .row button, .head button'), function (one) { one.disabled = false; });
  read();
  showAll();
  document.addEventListener('change', ticked);
  document.addEventListener('click', clicked);
  get('find').addEventListener('input', filterSoon);
  get('open').addEventListener('change', filter);
  get('undo').addEventListener('click', undo);
  get('done').addEventListener('click', function () {
    var piece = shownNext;
    change(data.pieces[piece] + ': cut', function () { put('at', 'n', boardOf[piece]); setPiece(piece, 'c'); });
  });
  get('wrong').addEventListener('click', function () { ask('piece', shownNext); });
  get('bad').addEventListener('click', function () { ask('board', String(data.boards[boardOf[shownNext]][0])); });
  get('other').addEventListener('click', function () {
    var place = nextPlace((boardOf[shownNext] + 1) % data.boards.length);
    change('Board ' + data.boards[place][0] + ' is at the saw', function () { put('at', 'n', place); });
  });
  get('cancel').addEventListener('click', close);
  get('left').addEventListener('keydown', function (event) {
    /* Enter would press the first button of the form. */
    if (event.key === 'Enter') event.preventDefault();
  });
  get('save').addEventListener('click', save);
  get('copy').addEventListener('click', copy);
  get('forget').addEventListener('click', forget);
  window.addEventListener('hashchange', look);
  if (wide.addEventListener) wide.addEventListener('change', look);
  /* The same page in another window. */
  window.addEventListener('storage', function (event) { if (event.key === key || event.key === null) { history = []; read(); showAll(); } });
  try { localStorage.setItem(key + ' ', '1'); localStorage.removeItem(key + ' '); } catch (fault) { get('unkept').hidden = false; }
  look();
}

begin();
}());
