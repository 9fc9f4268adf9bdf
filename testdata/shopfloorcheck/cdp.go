package shopfloorcheck

import (
	"context"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// awaited waits for what a promise gives.
func awaited(p *runtime.EvaluateParams) *runtime.EvaluateParams { return p.WithAwaitPromise(true) }

func setOffline(off bool) chromedp.Action {
	return chromedp.ActionFunc(func(ctx context.Context) error {
		return network.EmulateNetworkConditions(off, 0, -1, -1).Do(ctx)
	})
}

func withoutScripts(ctx context.Context) error {
	return emulation.SetScriptExecutionDisabled(true).Do(ctx)
}
