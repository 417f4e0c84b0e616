// What was marked or typed and not yet sent is not lost by a slip of the hand: before the page is left, one is asked.
/** True while marks wait to be saved. */
export const unsaved = () => document.body.dataset.unsaved === 'true';

/** The forms in which something was typed that is not sent. */
export const typed = () => document.querySelectorAll('form[data-api][data-typed]');
const question = () => (unsaved() ? 'What you marked is not saved. Leave anyway?' : typed().length ? 'What you typed has not been sent. Leave anyway?' : null);

const staysHere = (link) => link.hash && link.pathname === location.pathname && link.search === location.search;
const opensElsewhere = (event, link) => link.hasAttribute('download') || link.target || event.ctrlKey || event.metaKey || event.shiftKey;

// Before the framework takes the click for its own navigation.
document.addEventListener('click', (event) => {
  const link = event.target.closest?.('a[href]');
  const words = link && !staysHere(link) && !opensElsewhere(event, link) && question();
  if (!words) return;
  if (confirm(words)) {
    document.body.dataset.unsaved = 'false';
    typed().forEach((form) => form.removeAttribute('data-typed'));
    document.dispatchEvent(new Event('left-unsent'));
  } else {
    event.preventDefault();
    event.stopImmediatePropagation();
  }
}, true);
addEventListener('beforeunload', (event) => { if (question()) event.preventDefault(); });
