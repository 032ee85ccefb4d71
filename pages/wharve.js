// The little script there is. Every page works without it; with it entries outlive a lost network, others' entries show
// without loading anew, a reading is judged while it is typed, and times can be watched.
'use strict';

const RETRY = 3000, NEWS = 2500, PATIENCE = 8000;
const main = () => document.querySelector('main');
const token = () => document.querySelector('meta[name=token]').content;
const job = () => document.querySelector('[data-job]');

// What is not yet acknowledged is kept in the browser, an entry under its key.
const kept = {
  open() {
    return new Promise((good, bad) => {
      const ask = indexedDB.open('wharve', 1);
      ask.onupgradeneeded = () => ask.result.createObjectStore('entries', { keyPath: 'key' });
      ask.onsuccess = () => good(ask.result);
      ask.onerror = () => bad(ask.error);
    });
  },
  async do(mode, deed) {
    const base = await kept.open();
    return new Promise((good, bad) => {
      const ask = deed(base.transaction('entries', mode).objectStore('entries'));
      ask.onsuccess = () => { base.close(); good(ask.result); };
      ask.onerror = () => { base.close(); bad(ask.error); };
    });
  },
  put: entry => kept.do('readwrite', entries => entries.put(entry)),
  drop: key => kept.do('readwrite', entries => entries.delete(key)),
  all: () => kept.do('readonly', entries => entries.getAll()),
};

function send(action, fields, queued) {
  const body = new FormData();
  for (const [name, value] of fields) body.append(name, name === 'token' ? token() : value);
  if (queued) body.append('queued', 'yes');
  const plain = [...body.values()].every(value => typeof value === 'string');
  return fetch(action, { method: 'POST', body: plain ? new URLSearchParams(body) : body, signal: AbortSignal.timeout(PATIENCE) });
}

async function page(answer) {
  return new DOMParser().parseFromString(await answer.text(), 'text/html');
}

// Puts the page that came into this one; the word of the visit may be a new one.
function show(fresh, address) {
  const from = fresh.querySelector('main');
  if (!from) return;
  main().replaceWith(from);
  document.querySelector('.head').replaceWith(fresh.querySelector('.head'));
  document.querySelector('.words').replaceWith(fresh.querySelector('.words'));
  document.querySelector('meta[name=token]').content = fresh.querySelector('meta[name=token]').content;
  document.title = fresh.title;
  if (address && address !== location.href) history.pushState(null, '', address);
  showKept();
  startTimers();
}

async function renew() {
  const fresh = await page(await fetch('/sign-in', { signal: AbortSignal.timeout(PATIENCE) }));
  document.querySelector('meta[name=token]').content = fresh.querySelector('meta[name=token]').content;
}

async function enter(form, fields) {
  const live = form.classList.contains('live'), entry = { key: form.elements.key.value, action: form.action, fields,
    says: document.querySelector('h1').textContent, at: Date.now() };
  if (!live) await kept.put(entry);
  try {
    const answer = await send(form.action, fields, false);
    if (answer.status === 503) throw new Error('not now');
    if (!live) await kept.drop(entry.key);
    show(await page(answer), answer.redirected ? answer.url : location.href);
    main().focus();
    scrollTo(0, 0);
  } catch (error) {
    if (live) notice('Not released: there is no answer. A hold is never kept for later; try it again.');
    else showKept();
  }
}

function notice(words) {
  let box = document.getElementById('notice');
  if (!box) {
    box = document.createElement('div');
    box.id = 'notice';
    box.className = 'wrong';
    box.setAttribute('role', 'alert');
    main().prepend(box);
  }
  box.textContent = words;
}

// What waits to be sent stands on every page.
async function showKept() {
  const entries = await kept.all().catch(() => []);
  let box = document.getElementById('kept');
  if (entries.length === 0) {
    if (box) box.remove();
    return;
  }
  if (!box) {
    box = document.createElement('section');
    box.id = 'kept';
    box.className = 'kept';
    box.setAttribute('role', 'status');
    box.setAttribute('aria-label', 'Not yet sent');
    main().prepend(box);
  }
  box.replaceChildren(...entries.map(entry => {
    const line = document.createElement('p');
    const value = entry.fields.find(([name]) => name === 'value');
    line.textContent = `Kept in this browser, not yet sent: ${entry.says}${value ? `: ${value[1]}` : ''}.`
      + (entry.refused ? ` It was refused: ${entry.refused} ` : '');
    if (entry.refused) {
      const away = document.createElement('button');
      away.type = 'button';
      away.className = 'plain';
      away.textContent = 'Throw it away';
      away.addEventListener('click', async () => { await kept.drop(entry.key); showKept(); });
      line.append(away);
    }
    return line;
  }));
}

let sending = false;
async function sendKept() {
  if (sending) return;
  sending = true;
  try {
    for (const entry of await kept.all()) {
      if (entry.refused) continue;
      if (Date.now() - entry.at < PATIENCE) continue; // its own form may still be at it
      let answer = await send(entry.action, entry.fields, true);
      if (answer.status === 403) {
        await renew();
        answer = await send(entry.action, entry.fields, true);
      }
      if (answer.status === 503) break;
      if (answer.ok && !answer.url.includes('/sign-in')) {
        await kept.drop(entry.key);
      } else {
        const reason = (await page(answer)).querySelector('[role=alert]');
        await kept.put({ ...entry, refused: reason ? reason.textContent.trim() : 'sign in again' });
      }
      showKept();
    }
  } catch (error) { /* no network yet: they stay, and are tried again */ } finally {
    sending = false;
  }
}

function typedIn() {
  return [...document.querySelectorAll('main input:not([type=hidden]), main textarea, main select')].some(field =>
    field.type === 'checkbox' || field.type === 'radio' ? field.checked !== field.defaultChecked
      : field.tagName === 'SELECT' ? ![...field.options].every(option => option.selected === (option.defaultSelected || field.options[0] === option && ![...field.options].some(o => o.defaultSelected)))
        : field.value !== field.defaultValue);
}

// What others have entered meanwhile: shown at once where nothing has been typed, else told.
async function askForNews() {
  const at = job();
  if (!at || document.hidden) return;
  try {
    const answer = await fetch(`/jobs/${at.dataset.job}/since?after=${at.dataset.last}`, { signal: AbortSignal.timeout(PATIENCE) });
    const entries = answer.ok ? (await answer.json()).entries : [];
    if (entries.length === 0 || at !== job()) return;
    const words = entries.map(entry => `${entry.who}: ${entry.title}`).slice(-3).join('; ');
    if (typedIn()) {
      document.getElementById('news').textContent = `Entered meanwhile: ${words}. What you have typed is still here.`;
      at.dataset.last = entries.at(-1).seq;
      return;
    }
    const fresh = await fetch(location.href, { signal: AbortSignal.timeout(PATIENCE) });
    if (fresh.ok && at === job() && !typedIn()) {
      show(await page(fresh));
      document.getElementById('news').textContent = `Entered meanwhile: ${words}.`;
    }
  } catch (error) { /* asked again soon */ }
}

// A reading is judged while it is typed; what hangs on it is shown with it.
let typing;
function judge(form) {
  clearTimeout(typing);
  typing = setTimeout(async () => {
    const to = form.querySelector('[data-live]');
    const words = new URLSearchParams(new FormData(form));
    words.delete('token');
    try {
      const answer = await fetch(`${to.dataset.live}?${words}`, { signal: AbortSignal.timeout(PATIENCE) });
      if (answer.ok) to.replaceChildren(...(await page(answer)).body.childNodes);
    } catch (error) { to.replaceChildren(); }
  }, 250);
}

function startTimers() {
  for (const timer of document.querySelectorAll('.timer[hidden]')) {
    timer.hidden = false;
    timer.querySelector('button').addEventListener('click', () => {
      const end = Date.now() + 1000 * timer.dataset.seconds, output = timer.querySelector('output');
      const tick = () => {
        const left = Math.ceil((end - Date.now()) / 1000);
        output.textContent = left > 0 ? `${Math.floor(left / 60)} min ${left % 60} s left` : 'the time is over';
        if (left > 0 && timer.isConnected) setTimeout(tick, 250);
      };
      tick();
    });
  }
}

document.addEventListener('submit', event => {
  const form = event.target;
  if (!form.matches('form.keep, form.live')) return;
  event.preventDefault();
  const fields = [...new FormData(form, event.submitter)].filter(([, value]) => !(value instanceof File) || value.size > 0);
  enter(form, fields);
});
document.addEventListener('input', event => {
  const form = event.target.closest('form');
  if (form && form.querySelector('[data-live]')) judge(form);
});
addEventListener('popstate', () => location.reload());
addEventListener('online', sendKept);
setInterval(sendKept, RETRY);
setInterval(askForNews, NEWS);
showKept();
sendKept();
startTimers();
