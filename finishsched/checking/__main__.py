"""Write the page of the rules anew to standard output; it is kept in ``checking/rules.md``."""

import sys

from finishsched.checking.manual import page

if __name__ == "__main__":
    sys.stdout.write(page())
