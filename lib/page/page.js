/* page.js - the phone page: what is ticked and kept, the next cut; page_find.js and page_site.js go on in the same function
   SPDX-License-Identifier: GPL-3.0-or-later

   The data: plan, job, inches, boards [[number, millimetres, [piece ...]] ...], pieces [label ...], null for one that was in
   its place before this plan was made.
   In the page: a piece's row among the boards p0, p1 ... and among the runs f0 ..., its drawings s0 ... and e0 ...;
   a board b1, b2 ... */

var data = JSON.parse(get('data').textContent);
var key = 'spanwright ' + data.plan + ' ' + data.revision + ' ' + data.job;
var boardOf = [], places = {}, searched = [], toCut = 0;
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

/* Does what was kept make sense, or has something else written there? */
function fits(map, name, value) {
  if (map === 'at') return name === 'n' && data.boards.hasOwnProperty(value);
  var known = map === 'p' || map === 'l' ? /^\d+$/.test(name) && boardOf[name] !== undefined : places.hasOwnProperty(name);
  if (!known || typeof value !== 'string') return false;
  if (map === 'p') return classes.hasOwnProperty(value);
  if (map === 'b') return value === 'bad';
  var left = readLeft(value, Infinity);
  return left !== null && left.value === value;
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
}

function show(changes) {
  var pieces = {}, boards = {};
  changes.forEach(function (one) {
    if (one[0] === 'p' || one[0] === 'l') pieces[one[1]] = boards[boardOf[one[1]]] = true;
    else if (one[0] !== 'at') boards[places[one[1]]] = true;
  });
  Object.keys(pieces).forEach(showPiece);
  Object.keys(boards).forEach(showBoard);
  if (get('open').checked) filter();
  showRest();
}

function showAll() {
  data.pieces.forEach(function (label, piece) { if (label !== null) showPiece(piece); });
  data.boards.forEach(function (board, place) { showBoard(place); });
  filter();
  showRest();
}

function showRest() {
  var count = { c: 0, f: 0, s: 0 };
  Object.keys(state.p).forEach(function (piece) { count[state.p[piece]]++; });
  var wrong = count.s + Object.keys(state.b).length;
  text('progress', (count.c + count.f) + ' of ' + many(toCut, 'piece') + ' cut, ' + count.f + ' fixed');
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
    board[2].forEach(function (piece) { boardOf[piece] = place; toCut++; });
    searched.push(get('b' + board[0]).textContent.toLowerCase());
  });
  each(document.querySelectorAll('.row input, .head input, .row button, .head button'), function (one) { one.disabled = false; });
  read();
  listRuns();
  showAll();
  document.addEventListener('change', ticked);
  document.addEventListener('click', clicked);
  get('find').addEventListener('input', filterSoon);
  get('find').addEventListener('change', filter);
  get('open').addEventListener('change', filter);
  get('more').addEventListener('click', function () { room += portion; filter(); });
  get('run').addEventListener('change', function () { showRun(get('run').value); });
  get('undo').addEventListener('click', undo);
  get('done').addEventListener('click', function (event) {
    var piece = shownNext;
    /* The second half of a double tap was not meant for the next piece. */
    if (event.detail > 1) return;
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
