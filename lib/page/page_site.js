/* page_site.js - the phone page: what went wrong, and site.csv
   SPDX-License-Identifier: GPL-3.0-or-later */

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
