//go:build unix

package postgres

import (
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"strconv"
	"syscall"
)

// owner is the account that the server runs as. PostgreSQL refuses to run as
// root, so root hands over to the account that the package made.
type owner struct {
	credential *syscall.Credential // nil: whoever runs the tests
}

func findOwner() (owner, error) {
	if os.Geteuid() != 0 {
		return owner{}, nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		account, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, errUID := strconv.ParseUint(account.Uid, 10, 32)
		gid, errGID := strconv.ParseUint(account.Gid, 10, 32)
		if errUID != nil || errGID != nil {
			continue
		}
		return owner{&syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}, nil
	}
	return owner{}, fmt.Errorf("PostgreSQL does not run as root, and this machine has no account %q to run it as: run e2e/setup", "postgres")
}

func (o owner) take(folder string) error {
	if o.credential == nil {
		return nil
	}
	return os.Chown(folder, int(o.credential.Uid), int(o.credential.Gid))
}

// run makes a command run as the owner, and out of reach of the terminal's
// interrupt: the supervisor ends the server itself.
func (o owner) run(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: o.credential, Setpgid: true}
}
