// The bench form counts by keys. Every count is kept in this browser until the server has saved it: a reload, a crash or a lost
// connection loses none, and the form's own key keeps one sent twice from counting twice. Without this script the fields still work.
const form = document.querySelector('form[data-tally]');
if (form) {
  const store = `tally ${form.dataset.tally}`;
  const said = form.querySelector('[data-tally-said]');
  const fields = [...form.querySelectorAll('input[data-key]')];
  const presses = [];

  const kept = [...form.elements].filter(field => field.name && !field.name.startsWith('__') && !field.name.startsWith('_handler'));
  const keep = () => {
    const values = Object.fromEntries(kept.map(field => [field.name, field.value]));
    try { localStorage.setItem(store, JSON.stringify(values)); }
    catch { say('This browser keeps nothing: save before you leave.'); }
  };
  const say = words => { said.textContent = words; };

  const restore = () => {
    let draft;
    try { draft = JSON.parse(localStorage.getItem(store) ?? 'null'); } catch { draft = null; }
    if (!draft) return;
    if (form.dataset.saved.split(' ').includes(draft.Key)) {
      localStorage.removeItem(store);
      return;
    }
    if (form.dataset.refused) return; // the server's answer holds what was sent
    for (const field of kept) if (draft[field.name] !== undefined) field.value = draft[field.name];
    say('What you counted before is back; it is not saved yet.');
  };

  const count = (field, by) => {
    field.value = String(Math.max(0, (parseInt(field.value, 10) || 0) + by));
    say(`${field.dataset.name}: ${field.value}`);
    keep();
  };
  const undo = () => {
    const last = presses.pop();
    if (last) count(last, -1);
    else say('Nothing to take back.');
  };

  restore();
  form.querySelector('[data-tally-line]').hidden = false;
  const zeros = form.querySelector('[data-tally-zeros]');
  zeros.hidden = false;
  zeros.addEventListener('click', () => { for (const field of fields) field.value ||= '0'; keep(); say('Zero for the rest.'); });
  form.querySelector('[data-tally-undo]').addEventListener('click', undo);
  form.addEventListener('input', keep);
  document.addEventListener('keydown', event => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const into = event.target;
    const isTyping = into.matches('input, select, textarea') && !into.dataset.key;
    if (isTyping) return;
    const field = event.key.length === 1 ? fields.find(one => one.dataset.key === event.key) : null;
    if (field) {
      event.preventDefault();
      presses.push(field);
      count(field, 1);
    } else if (event.key === 'Backspace' && !into.matches('input')) {
      event.preventDefault();
      undo();
    }
  });
}
