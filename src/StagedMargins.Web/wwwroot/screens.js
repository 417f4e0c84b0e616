// The one entry of the screens' modules.
import './leaving.js';
import './forms.js';
import './backup.js';
import './intake.js';
import './layer.js';
import './live.js';
import './mark.js';
