#include "textflag.h"

// func stepRowWide(p, gradient, sum *ionize.Row, rate, decay, start float32)
// The loop of stepRowPlain over the 128 columns, eight at a time.
TEXT ·stepRowWide(SB), NOSPLIT, $0-36
	MOVQ         p+0(FP), DI
	MOVQ         gradient+8(FP), SI
	MOVQ         sum+16(FP), DX
	VBROADCASTSS rate+24(FP), Y13
	VBROADCASTSS decay+28(FP), Y14
	VBROADCASTSS start+32(FP), Y15
	XORQ         BX, BX

eight:
	VMOVUPS (DI)(BX*1), Y0
	VMULPS  Y14, Y0, Y1
	VADDPS  (SI)(BX*1), Y1, Y1
	VMULPS  Y1, Y1, Y2
	VADDPS  (DX)(BX*1), Y2, Y2
	VMOVUPS Y2, (DX)(BX*1)
	VADDPS  Y15, Y2, Y2
	VSQRTPS Y2, Y2
	VMULPS  Y13, Y1, Y1
	VDIVPS  Y2, Y1, Y1
	VSUBPS  Y1, Y0, Y0
	VMOVUPS Y0, (DI)(BX*1)
	ADDQ    $32, BX
	CMPQ    BX, $512
	JLT     eight
	VZEROUPPER
	RET
