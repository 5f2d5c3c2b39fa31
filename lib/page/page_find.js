/* page_find.js - the phone page: its parts, and what of them is shown
   SPDX-License-Identifier: GPL-3.0-or-later */

/* ---- Finding a board or a run ---- */

/* So many boards are shown at a time, and runs of so many pieces: more keep a telephone waiting. */
var portion = 100, most = 600;
var room = portion;

function isFound(place) {
  var wanted = get('find').value.trim().toLowerCase();
  if (get('open').checked && !isOpen(place)) return false;
  return wanted === '' || String(data.boards[place][0]) === wanted || (!/^\d+$/.test(wanted) && searched[place].indexOf(wanted) >= 0);
}

var typing = 0;
/* A long list is gone through when the word is whole, not at every letter. */
function filterSoon() {
  room = portion;
  clearTimeout(typing);
  typing = setTimeout(filter, 250);
}

function filter() {
  var found = 0;
  data.boards.forEach(function (board, place) {
    var fits = isFound(place);
    found += fits;
    get('b' + board[0]).hidden = !fits || found > room;
  });
  each(document.querySelectorAll('#boards ul'), function (list) {
    list.hidden = list.previousElementSibling.hidden = !list.querySelector('.board:not([hidden])');
  });
  text('found', found > room ? 'The first ' + room + ' of ' + many(found, 'board') + ' are shown.' : found === 0 ? 'No board is like that.' : '');
  get('more').hidden = found <= room;
}

/* A list of the runs, of which one is shown, or all. */
function listRuns() {
  var list = get('run'), runs = document.querySelectorAll('#runs article');
  function add(value, name) {
    var option = list.appendChild(document.createElement('option'));
    option.value = value;
    option.textContent = name;
  }
  if (runs.length < 2) return;
  get('which').hidden = false;
  if (data.pieces.length <= most) add('', 'all');
  each(runs, function (run, number) { add(number, run.querySelector('h3 bdi').textContent); });
  showRun(list.value);
}

function showRun(which) {
  get('run').value = which;
  each(document.querySelectorAll('#runs article'), function (run, number) { run.hidden = which !== '' && String(number) !== String(which); });
}

/* ---- Parts of the page ---- */

var wide = window.matchMedia('(min-width: 60rem)');

function look() {
  var name = location.hash.slice(1), target = /^[pfb]\d+$/.test(name) ? get(name) : null;
  var sections = document.querySelectorAll('main > section'), shown = target ? target.closest('section').id : name;
  if (!shown || !document.querySelector('main > section[id="' + shown.replace(/[^a-z]/g, '') + '"]')) shown = 'next';
  /* Beside the next cut there is always one other part where there is room for both. */
  document.documentElement.classList.remove('waiting');
  each(sections, function (one) { one.hidden = wide.matches ? one.id !== 'next' && one.id !== (shown === 'next' ? 'boards' : shown) : one.id !== shown; });
  each(document.querySelectorAll('nav a'), function (one) {
    if (one.getAttribute('href') === '#' + shown) one.setAttribute('aria-current', 'page'); else one.removeAttribute('aria-current');
  });
  if (target) { uncover(target); light(target); }
  else window.scrollTo(0, 0);
}

/* Whatever hides ROW. */
function uncover(row) {
  var run = row.closest('article'), board = row.closest('.board');
  if (run && run.hidden) showRun(Array.prototype.indexOf.call(document.querySelectorAll('#runs article'), run));
  if (board && board.hidden) {
    get('find').value = board.id.slice(1);
    get('open').checked = false;
    filter();
  }
}

function light(row) {
  row.scrollIntoView({ block: 'center' });
  row.classList.add('lit');
  setTimeout(function () { row.classList.remove('lit'); }, 2000);
  var box = row.querySelector('input');
  if (box) box.focus({ preventScroll: true });
}
